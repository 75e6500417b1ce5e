using CureSim.Checks;
using CureSim.Checks.Comparing;

namespace CureSim.StatisticalTests.ClosedForms;

/// <summary>The catalogue's checks that run through the engine, and what is promised of their chance and power.</summary>
public class SimulatedCheckTests
{
    public static TheoryData<string> Ids => [.. CatalogueRuns.Simulated.Select(c => c.Id)];

    [Theory]
    [MemberData(nameof(Ids))]
    public void Check_Passes(string id)
    {
        var outcome = CatalogueRuns.Of(id);
        Assert.True(outcome.Passed, $"{id}: {outcome}");
    }

    [Fact]
    public void SampledFigures_AreAsManyAsTheBudgetSays()
    {
        int figures = CatalogueRuns.Simulated.Where(c => c.Kind == CheckKind.Sampled).Sum(c => CatalogueRuns.Of(c.Id).Figures);
        Assert.Equal(FalsePositiveBudget.SampledFigures, figures);
        Assert.True(FalsePositiveBudget.FalseAlarms < 1, "more false alarms than one must be expected of a new throw of all seeds");
    }

    [Fact]
    public void SampledChecks_WouldShowAnErrorOfAQuarter()
    {
        // A check so wide that nothing could fail it is none. A quarter is loose on purpose: variances and far tails are dear to sample.
        Assert.All(CatalogueRuns.Simulated.Where(c => c.Kind == CheckKind.Sampled), c =>
            Assert.True(CatalogueRuns.Of(c.Id).SmallestDetectable < 0.25, $"{c.Id} shows nothing below {CatalogueRuns.Of(c.Id).SmallestDetectable:P0}"));
        Assert.All(CatalogueRuns.Simulated.Where(c => c.Kind == CheckKind.Deterministic), c => Assert.Null(CatalogueRuns.Of(c.Id).SmallestDetectable));
    }

    [Fact]
    public void ScoresOverOtherSeeds_AreThoseOfANormal()
    {
        // Standard errors that were too small would fail checks by chance, too large ones would hide errors. The first figure of eight checks, six
        // seeds each: Σz² is χ² with 48 degrees of freedom; 23.3 and 84.0 are its 0.1 % and 99.9 % points (R 4.2.2 qchisq, recomputed).
        string[] ids = ["CF-AIM-PART-1", "CF-AIM-SETUP-2", "CF-DRIFT-2", "CF-DIST-2", "CF-FAIL-REN-2", "CF-METER-2", "CF-SENSOR-SD-1", "CF-HEADS-1"];
        double[] scores = [.. ids.SelectMany(id => Enumerable.Range(0, 6).Select(i => Sampled(id).Figures(9001 + (37 * (ulong)i)).First().Score))];
        Assert.InRange(scores.Sum(z => z * z), 23.3, 84.0);
    }

    [Fact]
    public void PlantedError_ThatIsNotThere_FailsTheCheck()
    {
        // The comparison itself: a planted value equal to the true one cannot be refused, and a wrong expectation cannot pass.
        var check = Sampled("CF-AIM-PART-1");
        var blind = check with { Figures = s => check.Figures(s).Select(f => f with { Planted = f.Expected }) };
        var wrong = check with { Figures = s => check.Figures(s).Select(f => f with { Expected = f.Expected * (1 + (2 * f.SmallestDetectable)) }) };
        var none = check with { Figures = s => check.Figures(s).Select(f => f with { Planted = null }) };
        var sure = check with { Figures = s => check.Figures(s).Select(f => f with { StandardError = 0 }) };
        Assert.True(check.Entry.Run().Passed);
        Assert.All([blind, wrong, none, sure], c => Assert.False(c.Entry.Run().Passed));
    }

    private static SampledCheck Sampled(string id) => CheckCatalogue.Sampled.Single(c => c.Id == id);
}
