using CureSim.Checks.Fixtures;
using CureSim.Core.Cell;
using CureSim.Studies.Interval;

namespace CureSim.StatisticalTests.Interval;

/// <summary>An interval that falls soon after every replacement finds the cell in tolerance and is not recommended for it.</summary>
/// <remarks>
/// Closed form: without a loop, with an exact meter and setting at every check and replacement, the loss at a check is 1 − exp(−t/τ) with t the hours since the last
/// setting; τ = 2000 h. With a tolerance of 10 % it is inside up to t = −2000 h · ln 0.9 = 210.7 h. Every 2000 h and a replacement at 1990 h: t = 10 h, always inside.
/// </remarks>
public class BeyondMissTests
{
    private const double Hour = 3600;

    private static IntervalResult Study(params int[] hours) => IntervalResult.Run(
        new ScenarioBuilder().Clock(10 * Hour, 400).Irradiance(2e4).ExponentialAgeing(2000 * Hour).ReplaceEmitterAt(1990 * Hour)
            .Checks(10, 5e3, adjust: 0, action: 1e-6, tolerance: 0.1).Radiometer()
            .Limit(Response.Dose, 1e3).Run(lifetimes: 64, seed: 20270)
            .With(s => s with { IntervalStudy = IntervalStudy.Usual with { Candidates = [.. hours.Select(t => new CheckTiming($"{t} h", t / 10, null, null, false))] } }).Build(),
        2, beside: false);

    [Fact]
    public void Interval_ThatMeetsAgainBeyondOneThatMisses_IsNotRecommended()
    {
        var study = Study(100, 200, 400, 2000);
        Assert.Equal([true, true, false, true], study.Candidates.Select(c => c.MeetsReliability));
        Assert.Equal([false, false, false, true], study.Candidates.Select(c => c.IsBeyondMiss));
        Assert.Equal("200 h", study.Longest!.Run.Timing.Name);
    }

    [Fact]
    public void Interval_WithNoMissBeforeIt_IsRecommended() => Assert.Equal("200 h", Study(100, 200).Longest!.Run.Timing.Name);
}
