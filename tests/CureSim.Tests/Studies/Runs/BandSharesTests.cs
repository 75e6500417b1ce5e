using System.Collections.Immutable;
using CureSim.Engine.Plan;
using CureSim.Reports.Pages;
using CureSim.Reports.Runs;
using CureSim.Scenarios;
using CureSim.Studies.Runs;
using CureSim.Tests.Scenarios;

namespace CureSim.Tests.Studies.Runs;

/// <summary>Shares of the band over worlds through the engine: two unknown inputs of the dose whose variances are known.</summary>
public sealed class BandSharesTests
{
    private const string Irradiance = "source.irradiance", Absorption = "substrate.absorption";

    private static RunAnalysis Run(int worlds, int lifetimes)
    {
        string[] sets =
        [
            "source.irradiance={ lognormal: { median: 5 W/cm2, gsd: 1.03 }, unknown_factor: { lognormal: { median: 1, gsd: 1.10 } } }",
            "substrate={ absorption: { unknown: { estimate: 1 /mm, se: 10 % } }, thickness: 0.5 mm }", "fixture.distance.part={ normal: { sd: 1 mm } }",
            "production.horizon=1 week", $"run.worlds={worlds}", $"run.lifetimes={lifetimes}", "window.dose.upper=none", "window.dose.lower=7 J/cm2",
        ];
        return RunAnalysis.Run(new RunPlan(ScenarioReader.Read(Path.Combine(ScenarioFiles.Shipped, "fading-leds.yaml"), sets).Cell!), 1);
    }

    [Fact]
    public void TwoInputsOfTheDose_ShareAsTheirVariances()
    {
        // Both move ln dose: the irradiance by ln(1.10) a score, the absorption by 1/mm · 0.5 mm · 10 %; shares to first order 0.784 : 0.216, and each figure is a function of that sum.
        double one = Math.Pow(Math.Log(1.10), 2.0), two = Math.Pow(0.5 * 0.1, 2.0), truth = one / (one + two);
        var run = Run(24, 64);
        var ppk = run.BandShares.Single(b => b.Figure.Id == "dose_ppk");
        Assert.Null(ppk.Withheld);
        var shares = ppk.Shares.ToDictionary(s => s.Input.Paths.Single(), s => s.Share);
        Assert.InRange(truth, shares[Irradiance].Lower95!.Value, shares[Irradiance].Upper95!.Value);
        Assert.InRange(1.0 - truth, shares[Absorption].Lower95!.Value, shares[Absorption].Upper95!.Value);
        Assert.InRange(ppk.Rest.Get(), 0.0, 0.1);
        Assert.InRange(ppk.AdjustedRSquared!.Value, 0.9, 1.0);

        // One of the two typical: what the other does not make alone counts, and its upper end decides.
        ImmutableArray<InputRow> Rows(string typical) => [.. ((string[])[Irradiance, Absorption]).Select(p => new InputRow(p, "emitter", "{ unknown … }", "", p == typical ? "typical" : "yours", ""))];
        var index = run.BandShares[0];
        Assert.Equal("state_index_end_p05", index.Figure.Id);
        var basis = TypicalBasis.Of(Rows(Irradiance), run);
        Assert.Equal(index.NotFrom(i => i.Paths[0] == Absorption).Get(), basis.ShareOfBand!.Value, 1e-12);
        Assert.Equal(Judgement.Provisional, basis.Judge(true));
        Assert.Contains("of the variance between worlds", basis.Words, StringComparison.Ordinal);
    }

    [Fact]
    public void TooFewWorlds_SayHowManyWouldBeEnough()
    {
        var shares = Run(10, 64).BandShares;
        Assert.All(shares, s => Assert.Equal("10 worlds are too few to part 2 unknown inputs; 16 would be enough", s.Withheld));
    }
}
