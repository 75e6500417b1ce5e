using System.Globalization;
using CureSim.Studies.Fit;
using CureSim.Studies.Interval;

namespace CureSim.StatisticalTests.Fit;

/// <summary>Chances that were said against how often they came true.</summary>
/// <param name="What">Of what.</param>
/// <param name="Expected">Sum of the chances.</param>
/// <param name="Error">Standard deviation of the number that come true when the chances are right: √Σp(1 − p), a sum of so many unlike coins.</param>
/// <param name="True">How many came true.</param>
internal sealed record ChanceSum(string What, double Expected, double Error, int True)
{
    /// <summary>Within three standard deviations; where hardly any is expected a Poisson count up to three is no contradiction.</summary>
    public bool Holds => Math.Abs(True - Expected) <= Math.Max(3.0 * Error, 3.0);

    public static ChanceSum Of(string what, IEnumerable<(double Chance, bool True)> cases)
    {
        var all = cases.ToArray();
        return new(what, all.Sum(c => c.Chance), Math.Sqrt(all.Sum(c => c.Chance * (1.0 - c.Chance))), all.Count(c => c.True));
    }
}

/// <summary>How far what is said of excursions' origins can be trusted, over many held-back lifetimes.</summary>
/// <param name="Cases">Excursions of which something was said.</param>
/// <param name="Out">… whose state was out of the qualified one.</param>
/// <param name="In80">… of these, begun within the 80 % interval.</param>
/// <param name="In90">… within the 90 % interval.</param>
/// <param name="Since">Chance that it began since the check before.</param>
/// <param name="Contained">Chance that the bracket holds all.</param>
/// <param name="Causes">Chances of the causes.</param>
/// <param name="Effective">Effective lifetimes, mean.</param>
internal sealed record ExcursionCalibration(int Cases, int Out, int In80, int In90, ChanceSum Since, ChanceSum Contained, IReadOnlyList<ChanceSum> Causes, double Effective)
{
    public static ExcursionCalibration Of(IReadOnlyList<ExcursionCase> cases) => new(
        cases.Count, cases.Count(c => c.BeganHoursAgo is not null), cases.Count(c => c.Within(b => b.P10, b => b.P90)), cases.Count(c => c.Within(b => b.P05, b => b.P95)),
        ChanceSum.Of("began since the check before", cases.Select(c => (c.Origin.SinceLastCheck.Value!.Value, c.Since))),
        ChanceSum.Of("the bracket holds it all", cases.Select(c => (c.Origin.Contained.Value!.Value, c.Since || c.BeganHoursAgo is null))),
        [.. ReadingCauses.Names.Select((name, k) => ChanceSum.Of(name, cases.Select(c => (c.ChanceOf(k), c.Cause == k))))],
        cases.Average(c => c.Origin.Effective));

    /// <summary>The 80 % interval of the start holds 75 to 85 %, or what three binomial standard errors of so few excursions leave; the 90 % interval likewise; every chance adds up.</summary>
    public void AssertCalibrated()
    {
        double Slack(double p, double least) => Math.Max(least, 3.0 * Math.Sqrt(p * (1.0 - p) / Out));
        if (Out > 0)
        {
            Assert.True(Math.Abs((In80 / (double)Out) - 0.8) <= Slack(0.8, 0.05), ToString());
            Assert.True(Math.Abs((In90 / (double)Out) - 0.9) <= Slack(0.9, 0.04), ToString());
        }

        Assert.All([Since, Contained, .. Causes], c => Assert.True(c.Holds, $"{c} of {this}"));
    }

    public override string ToString() => string.Create(CultureInfo.InvariantCulture,
        $"{Cases} cases, {Out} out, 80 %: {100.0 * In80 / Out:0.0}, 90 %: {100.0 * In90 / Out:0.0}, effective {Effective:0}; {string.Join("; ", new[] { Since, Contained }.Concat(Causes).Select(c => FormattableString.Invariant($"{c.What} {c.Expected:0.0} ± {c.Error:0.0}: {c.True}")))}");
}
