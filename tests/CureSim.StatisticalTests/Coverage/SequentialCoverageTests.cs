using System.Globalization;
using CureSim.Checks.Fixtures;
using CureSim.Core.Cell;
using CureSim.Core.Distributions;
using CureSim.Core.Statistics;
using CureSim.Engine.Plan;
using CureSim.Studies.Runs;
using static CureSim.Checks.Fixtures.Uncertain;

namespace CureSim.StatisticalTests.Coverage;

/// <summary>The interval that a run to a precision ends with holds the true value nearly as often as that of a run of a given size.</summary>
public class SequentialCoverageTests
{
    private const double HalfWidth = 0.015;

    [Fact]
    public void Interval_OfPpk_AfterStoppingByItsOwnLength_HoldsTheTruth()
    {
        // The long run's half-width is a tenth of the one asked for.
        double truth = RunAnalysis.Run(new RunPlan(Cell(1_000_000, 999, null))).Find("dose_ppk")!.Estimate.Get();
        var found = new (Estimate Estimate, long Lifetimes)[CoverageStudy.Runs];
        Parallel.For(0, found.Length, i =>
        {
            var run = RunAnalysis.RunToPrecision(new RunPlan(Cell(LeafRounds.Lifetimes, (ulong)(1 + i), HalfWidth)), threads: 1);
            found[i] = (run.Find("dose_ppk")!.Estimate, run.Precision!.Lifetimes);
        });
        int above = found.Count(f => f.Estimate.Lower95 > truth), below = found.Count(f => f.Estimate.Upper95 < truth);
        double percent = 100.0 * (found.Length - above - below) / found.Length;
        Assert.All(found, f => Assert.True(f.Estimate.HalfWidth95 <= HalfWidth));
        Assert.True(found.Select(f => f.Lifetimes).Distinct().Count() > 1, "runs that all end after the same round say nothing of stopping");

        // 92 to 98 %, as for runs of a given size (see CoverageTests).
        Assert.True(percent is >= 92.0 and <= 98.0, $"{percent} %, above {above}, below {below}");
        GeneratedTable.Write(
            "sequential", ["half-width asked", "runs", "coverage", "too high", "too low", "lifetimes at the end: runs"],
            [[
                HalfWidth.ToString(CultureInfo.InvariantCulture), $"{found.Length}", percent.ToString("0.0", CultureInfo.InvariantCulture) + " %", $"{above}", $"{below}",
                string.Join(", ", found.GroupBy(f => f.Lifetimes).OrderBy(g => g.Key).Select(g => $"{g.Key}: {g.Count()}")),
            ]]);
    }

    private static Scenario Cell(int lifetimes, ulong seed, double? half) => new ScenarioBuilder().Clock(28800, 2).Sites(1)
        .Irradiance(Varying(new LognormalDistribution(1e4, 1.03))).Distance(0.01, new InverseSquareSpread(0.01), part: Varying(new NormalDistribution(0, 3e-4)))
        .Limit(Response.Dose, 8e3, 1.3e4).Run(lifetimes: lifetimes, partsAStep: 2, seed: seed)
        .With(s => half is { } h ? s with { Run = s.Run with { Precision = new([new(PreciseFigure.Ppk, h)], 1_000_000) } } : s).Build();
}
