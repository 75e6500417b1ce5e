using CureSim.Core.Statistics;
using CureSim.Scenarios;
using CureSim.Studies.DoseLadders;
using CureSim.Tests.Statistics;

namespace CureSim.Tests.Studies.DoseLadder;

/// <summary>Limits from a dose ladder: the fit against another implementation, the bounds against a handbook, and what is said when data do not reach.</summary>
public class LadderTests
{
    private static readonly double[] Irradiances = [1, 2, 4];

    private static LadderPoint[] Shipped()
    {
        string folder = AppContext.BaseDirectory;
        while (!File.Exists(Path.Combine(folder, "CureSim.sln")))
        {
            folder = Path.GetDirectoryName(folder)!;
        }

        return [.. LadderFile.Read(Path.Combine(folder, "scenarios", "dose-ladder.csv")).Ladder!.Parts.Select(p => new LadderPoint(p.Irradiance, p.Time, p.Response, p.Passed))];
    }

    [Fact]
    public void Fit_OfTheShippedLadder_AgreesWithSciPy()
    {
        var parts = Shipped();
        var fit = DoseResponseFit.Of([.. parts.Select(p => p.Irradiance)], [.. parts.Select(p => p.Time)], [.. parts.Select(p => p.Response!.Value)])!;

        // scipy.optimize.curve_fit 1.10 with tolerances 1e-14; tolerance bounds with scipy.stats.nct and a numerical Jacobian, p by brentq on the profile.
        // 1e-6: both stop where the sum of squares no longer falls, which fixes parameters to about the root of a double's precision.
        Assert.Equal(23.65155198, fit.Plateau, 2e-5);
        Assert.Equal(1.6031279, fit.Half, 2e-6);
        Assert.Equal(3.38615677, fit.Steepness, 5e-6);
        Assert.Equal(0.6122142, fit.Exponent, 1e-6);
        Assert.Equal(0.7927706107546512, fit.ResidualDeviation, 1e-9);
        Assert.Equal(65.36246509273546, fit.ResidualSumOfSquares, 1e-8);
        Assert.Equal(0.5850366332406297, fit.ExponentInterval.Lower, 1e-6);
        Assert.Equal(0.6397585290120037, fit.ExponentInterval.Upper, 1e-6);
        Assert.Equal(0.1641104711026919, fit.LackOfFitP!.Value, 1e-7);

        // 1e-5: the numerical Jacobian has five digits.
        Assert.Equal(16.600024884846917, fit.LowerTolerance(2, 1.5, 0.95, 0.95), 2e-5);
        Assert.Equal(21.619729156835223, fit.LowerTolerance(1, 5, 0.95, 0.95), 2e-5);
        Assert.Equal(16.810868666321564, fit.LowerTolerance(4, 1, 0.95, 0.95), 2e-5);
    }

    [Fact]
    public void GroupBound_OfOneGroup_IsTheHandbooks()
    {
        // NIST/SEMATECH e-Handbook 7.2.6.3 (prc263): N = 43, p = 0.90, confidence 0.99, exact k1 = 1.8740.
        Assert.Equal(-1.8740, GroupTolerance.Lower(0, 43, 1, 42, 0.99, 0.90), 5e-5);
    }

    [Fact]
    public void Limits_AreWhereTheBoundMeetsTheRequirement_InsideTheTestedDoses()
    {
        var parts = Shipped();
        var found = LadderLimits.Of(parts, 18, 0.95, 0.95);
        Assert.True(found.UsesFit);
        Assert.Equal(Irradiances, found.Limits.Select(l => l.Irradiance));
        foreach (var l in found.Limits)
        {
            Assert.Equal(18, found.Fit!.LowerTolerance(l.Irradiance, l.Lower!.Value / l.Irradiance, 0.95, 0.95), 1e-6);
            Assert.InRange(l.Lower.Value, l.LowestTested, l.HighestTested);
            Assert.Equal(l.HighestTested, l.Upper);
            Assert.Contains("do not reach an upper edge", l.UpperIs, StringComparison.Ordinal);
        }

        // p below 1: the same effect at four times the irradiance takes more dose, by 4^(1 − p).
        double ratio = found.Limits[2].Lower!.Value / found.Limits[0].Lower!.Value;
        Assert.Equal(Math.Pow(4, 1 - found.Fit!.Exponent), ratio, 0.02);
    }

    [Theory]
    [InlineData(30, "the data do not reach it")]
    [InlineData(5, "the lowest tested dose; the data do not reach a dose that fails")]
    public void DataThatDoNotReach_SaySo(double requirement, string expected)
    {
        // Results were noted against another requirement.
        var found = LadderLimits.Of([.. Shipped().Select(p => p with { Passed = null })], requirement, 0.95, 0.95);
        Assert.All(found.Limits, l => Assert.StartsWith(expected, l.LowerIs, StringComparison.Ordinal));
        Assert.All(found.Limits, l => Assert.True(l.Lower is null || l.Lower == l.LowestTested));
    }

    [Fact]
    public void ResponseThatFallsAgain_UpperLimitIsTheLastTestedDoseThatHolds()
    {
        // Hand-made: rises, holds from 4 to 8 J/cm², is brittle at 16. Scatter ±0.5 about each mean.
        var parts = new List<LadderPoint>();
        foreach (var (t, y) in ((double, double)[])[(1, 8), (2, 14), (4, 22), (6, 23), (8, 23), (16, 12)])
        {
            foreach (double e in (double[])[-0.5, -0.25, 0, 0, 0.25, 0.5])
            {
                parts.Add(new(1, t, y + e, null));
            }
        }

        var limit = Assert.Single(LadderLimits.Of(parts, 18, 0.95, 0.95).Limits);
        Assert.Equal(8, limit.Upper);
        Assert.Contains("at the next", limit.UpperIs, StringComparison.Ordinal);

        // The curve cannot fall, so the data speak against it and the lower limit is a tested dose.
        Assert.Equal(4, limit.Lower);
        Assert.False(LadderLimits.Of(parts, 18, 0.95, 0.95).UsesFit);
    }

    [Fact]
    public void ResultsAlone_NeedTheSuccessRun()
    {
        LadderPoint[] At(double t, int n, int failed) => [.. Enumerable.Range(0, n).Select(i => new LadderPoint(2, t, null, i >= failed))];

        // 59 without a failure is 95/95 (Wilks); 58 is not.
        var found = LadderLimits.Of([.. At(1, 59, 3), .. At(2, 58, 0), .. At(3, 59, 0), .. At(4, 93, 1)], null, 0.95, 0.95);
        Assert.Equal([false, false, true, true], found.Settings.Select(s => s.Holds));
        var limit = Assert.Single(found.Limits);
        Assert.Equal(6, limit.Lower);
        Assert.Equal(8, limit.Upper);
    }

    [Fact]
    public void File_WithProblems_TellsThemAllAtOnce()
    {
        var reading = LadderFile.Parse("d.csv", "irradiance_w_per_cm2,time_s,response_n,result\n1,2,12.5,pass\n-1,2,x,maybe\n"u8.ToArray());
        Assert.Null(reading.Ladder);
        Assert.Equal(3, reading.Problems.Length);
        Assert.All(reading.Problems, p => Assert.Equal(3, p.Line));
        Assert.NotEmpty(LadderFile.Parse("d.csv", "a,b\n1,2\n"u8.ToArray()).Problems);
        Assert.NotEmpty(LadderFile.Parse("d.csv", "irradiance,time_s,response_n\n1,2,3\n"u8.ToArray()).Problems);
    }

    [Fact]
    public void File_InOtherUnits_IsConverted()
    {
        var part = LadderFile.Parse("d.csv", "irradiance_mw_per_cm2;time_ms;result\n1500;2500;pass\n"u8.ToArray()).Ladder!.Parts[0];
        Assert.Equal(1.5, part.Irradiance, 1e-12);
        Assert.Equal(2.5, part.Time, 1e-12);
        Assert.Equal(4.0, LadderFile.Parse("d.csv", "dose [mJ/cm2],response [N]\n4000,3\n"u8.ToArray()).Ladder!.Parts[0].Time, 1e-12);
    }
}
