using CureSim.Checks.Fixtures;
using CureSim.Core.Cell;
using CureSim.Studies.Interval;

namespace CureSim.StatisticalTests.Interval;

/// <summary>Disturbances at rate λ, found and put right at checks every T: what the study says of eight intervals, against the renewal argument.</summary>
/// <remarks>
/// Source: first arrival of a Poisson process in an interval, and the cost of a cycle over its length: C(T) = c_i/T + c_d − (c_d/λ)(1 − e^(−λT))/T.
/// The values at T = 8 and 100 and the optima 31.9610 h and 10.1706 h were recomputed from the formula outside this project (provenance: recomputed).
/// A step is 1 h, the horizon whole intervals of every T. Fixed seeds; three standard errors, so that chance alone fails one figure in 370.
/// </remarks>
public class RenewalRewardTests
{
    private const double Hour = 3600;
    private const double Year = 2000; // production hours in the year of the plain scenario
    private const int Horizon = 960;

    private static readonly int[] First = [8, 16, 24, 32, 40, 48, 64, 96];
    private static readonly int[] Second = [4, 5, 6, 8, 10, 12, 16, 20];

    private static Scenario Cell(double rate, double check, double undetected, int lifetimes) => new ScenarioBuilder()
        .Clock(Hour, Horizon, 8 * Hour).Rate(100 / Hour).Checks(8, 6e3, action: 0.01, tolerance: 0.02, fixtureCheck: true).Limit(Response.Dose, 5e3, 2e4)
        .Disturbance("kink", rate / Hour, factor: 0.5, clearedBy: ClearedBy.FixtureCheck).Run(lifetimes: lifetimes, seed: 20261)
        .With(s => s with { Costs = Costs.None("EUR") with { Check = Amount("check", check), NonconformingPart = Amount("nonconforming_part", undetected / 100) } }).Build();

    private static Quantity Amount(string key, double value) => Quantity.Of("costs." + key, Level.Cell, value);

    private static IntervalResult Study(Scenario cell, int[] intervals) => IntervalResult.Run(
        cell with { IntervalStudy = IntervalStudy.Usual with { Candidates = [.. intervals.Select(t => new CheckTiming($"{t} h", t, null, null, false))] } }, 2, beside: false);

    private static double Cost(double t, double rate, double check, double undetected) => (check / t) + undetected - (undetected / rate * (1 - Math.Exp(-rate * t)) / t);

    [Fact]
    public void Formula_GivesThePublishedValues()
    {
        // 7 digits as they were written down.
        Assert.Equal(6.64894, Cost(8, 1e-3, 50, 100), 5e-6);
        Assert.Equal(5.33742, Cost(100, 1e-3, 50, 100), 5e-6);
        Assert.Equal(3.14557, Cost(31.9610, 1e-3, 50, 100), 5e-6);
        Assert.Equal(19.8326, Cost(10.1706, 5e-3, 100, 400), 5e-5);
    }

    [Theory]
    [InlineData(1e-3, 50, 100, 31.9610, true)]
    [InlineData(5e-3, 100, 400, 10.1706, false)]
    public void CostRate_AtEightIntervals_IsThatOfTheRenewalArgument(double rate, double check, double undetected, double optimum, bool first)
    {
        int[] intervals = first ? First : Second;
        var study = Study(Cell(rate, check, undetected, 4096), intervals);
        foreach (var c in study.Candidates)
        {
            double t = c.Run.IntervalHours;
            var found = c.Run.Find(IntervalMeasures.Cost)!.Estimate;
            double hourly = found.Get() / Year, error = found.StandardError!.Value / Year;
            Assert.True(Math.Abs(hourly - Cost(t, rate, check, undetected)) <= 3 * error, $"C({t}) = {hourly} ± {error}, expected {Cost(t, rate, check, undetected)}");

            // The planted error: half the rate. At short intervals checks make up nearly all of the cost, so it shows from λT = 0.02 on.
            if (rate * t >= 0.02)
            {
                Assert.False(Math.Abs(hourly - Cost(t, rate / 2, check, undetected)) <= 3 * error, $"planted error at {t} h");
            }
        }

        Assert.InRange(optimum, study.CostMinimum.Lower95!.Value, study.CostMinimum.Upper95!.Value);

        // The interval says something: it is narrower than the step from one candidate to the next.
        Assert.True(study.CostMinimum.Upper95 - study.CostMinimum.Lower95 < 0.4 * optimum);
    }

    [Theory]
    [InlineData(31.9610, 1e-3, 50, 100, new[] { 16, 24, 32, 40, 48 })]
    [InlineData(10.1706, 5e-3, 100, 400, new[] { 6, 8, 10, 12, 16 })]
    public void Fit_ToExactCosts_FindsTheOptimum(double optimum, double rate, double check, double undetected, int[] intervals)
    {
        double[] hours = [.. intervals.Select(t => (double)t)];
        double found = CostMinimum.Fit(hours, [.. hours.Select(t => Cost(t, rate, check, undetected))], out double misfit)!.Value;

        // 0.5 %: the term of third order in λT, which a + b/T + c·T leaves out, moves the minimum by about (λT)/6 of what it adds.
        Assert.Equal(1, found / optimum, 0.005);
        Assert.True(misfit < 1e-3);
    }

    [Fact]
    public void Verdict_IsThatOfTheUnfavourableEnd()
    {
        var run = Study(Cell(0.01, 50, 100, 256), [8, 16]).Candidates[0].Run;
        var found = run.Find(IntervalMeasures.InTolerance)!.Estimate;
        double value = found.Get() / 100, lower = found.Lower95!.Value / 100;
        Assert.True(lower < value);
        Assert.False(CandidateVerdict.Of(run, IntervalStudy.Usual with { ReliabilityTarget = (value + lower) / 2 }).Meets);
        Assert.True(CandidateVerdict.Of(run, IntervalStudy.Usual with { ReliabilityTarget = lower - 1e-9 }).Meets);
        double ppm = run.Find(IntervalMeasures.Ppm)!.Estimate.Upper95!.Value;
        Assert.False(CandidateVerdict.Of(run, IntervalStudy.Usual with { ReliabilityTarget = 0.5, NonconformingLimit = 0.999e-6 * ppm }).Meets);
        Assert.True(CandidateVerdict.Of(run, IntervalStudy.Usual with { ReliabilityTarget = 0.5, NonconformingLimit = 1.001e-6 * ppm }).Meets);
    }

    [Fact]
    public void Verdict_WithAnUnknownRate_IsThatOfTheUnfavourableWorlds()
    {
        // The rate is known to a factor of about 1.6 only: more lifetimes narrow the Monte-Carlo interval, never the band.
        var cell = Cell(0.01, 50, 100, 256) with { Disturbances = [] };
        var unknown = new ScenarioBuilder().With(_ => cell)
            .Disturbance("kink", Uncertain.Unknown(new Core.Distributions.LognormalDistribution(0.01 / Hour, 1.6)), factor: 0.5, clearedBy: ClearedBy.FixtureCheck)
            .Run(worlds: 12, lifetimes: 256, seed: 20266).Build();
        var verdict = Study(unknown, [16, 32]).Candidates[0];
        var figure = verdict.Run.Find(IntervalMeasures.InTolerance)!;
        Assert.NotNull(figure.Band!.Lower05);
        Assert.Equal(Math.Min(figure.Band.Lower05!.Value, figure.Estimate.Lower95!.Value), 100 * verdict.Reliability, 1e-9);

        // Quantile of e^(−λT) at the 95 % quantile of λ is 0.707 of T = 16 h: 12 worlds put it between their own order statistics, so within a third of the way to 1.
        Assert.InRange(verdict.Reliability, 0.6, 0.82);
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void Reliability_AndUnseenTime_AtEightIntervals(bool wholeCell)
    {
        const int Sites = 2;
        const double Rate = 0.02; // for each site, 1/h
        int[] intervals = [1, 2, 3, 4, 5, 8, 10, 15];
        var cell = new ScenarioBuilder().Clock(Hour, 120, 8 * Hour).Sites(Sites).OneEmitterASite()
            .Checks(8, 6e3, action: 0.01, tolerance: 0.02, fixtureCheck: true).Limit(Response.Dose, 5e3, 2e4)
            .Disturbance("kink", Rate / Hour, factor: 0.5, clearedBy: ClearedBy.FixtureCheck, wholeCell: wholeCell).Run(lifetimes: 512, seed: 20262).Build();
        foreach (var c in Study(cell, intervals).Candidates)
        {
            double x = (wholeCell ? 1 : Sites) * Rate * c.Run.IntervalHours, half = x / 2;
            double Good(double y) => 100 * Math.Exp(-y);
            double Unseen(double y) => Year * (1 - ((1 - Math.Exp(-y)) / y));
            foreach (var (id, expected, planted) in new[]
            {
                (IntervalMeasures.InTolerance, Good(x), Good(half)), ("unseen_out_hours_per_year", Unseen(x), Unseen(half)), ("unseen_outside_hours_per_year", Unseen(x), Unseen(half)),
            })
            {
                var found = c.Run.Find(id)!.Estimate;
                Assert.True(Math.Abs(found.Get() - expected) <= 3 * found.StandardError, $"{id} at {c.Run.IntervalHours} h: {found}, expected {expected}");
                Assert.False(Math.Abs(found.Get() - planted) <= 3 * found.StandardError, $"{id}: planted error (half the rate) at {c.Run.IntervalHours} h");
            }
        }
    }
}
