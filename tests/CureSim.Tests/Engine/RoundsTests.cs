using CureSim.Checks.Fixtures;
using CureSim.Core.Cell;
using CureSim.Core.Distributions;
using CureSim.Engine.Plan;
using CureSim.Engine.Runs;
using CureSim.Studies.Runs;
using static CureSim.Checks.Fixtures.Uncertain;

namespace CureSim.Tests.Engine;

/// <summary>Rounds of lifetimes or worlds: their sizes, and that a continued run is the same as a longer one.</summary>
public class RoundsTests
{
    private static ScenarioBuilder Cell => new ScenarioBuilder().Clock(28800, 4).Sites(2)
        .Irradiance(Varying(new LognormalDistribution(1e4, 1.02))).Distance(0.01, new InverseSquareSpread(0.01), part: Varying(new NormalDistribution(0, 1e-4))).Limit(Response.Dose, 9e3);

    private static ScenarioBuilder Unknown => Cell.Exposure(1, offset: Uncertain.Unknown(new NormalDistribution(1, 0.01)));

    [Fact]
    public void Sizes_AreWholeRounds_ThatGrow_AndEndAtTheCap()
    {
        Assert.Equal((4096, 8192), (LeafRounds.Next(0, 4096, 100_000), LeafRounds.Next(4096, 4096, 100_000)));
        Assert.Equal(32 * 4096, LeafRounds.Next(31 * 4096, 4096, 10_000_000));
        Assert.Equal(34 * 4096, LeafRounds.Next(32 * 4096, 4096, 10_000_000));
        Assert.Equal(9000, LeafRounds.Next(8192, 4096, 9000));
        Assert.Equal(10_000_000, LeafRounds.Next(9_990_144, 4096, 10_000_000));
        Assert.Equal((16, 17, 64), (LeafRounds.Worlds(1000), LeafRounds.Worlds(250), LeafRounds.Worlds(64)));
    }

    [Theory]
    [InlineData(12288, 1)]
    [InlineData(12288, 3)]
    [InlineData(9000, 2)]
    public void Lifetimes_AddedInRounds_AreTheSameRun(int lifetimes, int threads)
    {
        int looks = 0;
        RunResult rounds = new LocalRunner(new RunPlan(Cell.Run(lifetimes: 4096).Build()), threads).RunRounds(lifetimes, _ => ++looks < 99 ? long.MaxValue : 0);
        RunResult once = new LocalRunner(new RunPlan(Cell.Run(lifetimes: lifetimes).Build()), 2).Run();
        Assert.Equal(3, looks);
        Assert.Equal(lifetimes, rounds.Plan.Scenario.Run.LifetimesPerWorld);
        Same(once, rounds);
    }

    [Fact]
    public void Worlds_AddedInRounds_AreTheSameRun()
    {
        RunResult rounds = new LocalRunner(new RunPlan(Unknown.Run(worlds: 17, lifetimes: 250).Build()), 2).RunRounds(40 * 250, r => r.Units.Length < 34 ? long.MaxValue : 0);
        RunResult once = new LocalRunner(new RunPlan(Unknown.Run(worlds: 34, lifetimes: 250).Build()), 1).Run();
        Assert.Equal((34, 250), (rounds.Plan.Scenario.Run.Worlds, rounds.Plan.Scenario.Run.LifetimesPerWorld));
        Same(once, rounds);
    }

    [Fact]
    public void Cap_BelowOneRound_IsRefused() => Assert.Throws<ArgumentOutOfRangeException>(
        () => new LocalRunner(new RunPlan(Cell.Run(lifetimes: 4096).Build()), 1).RunRounds(4095, _ => 0));

    [Fact]
    public void Precision_IsMet_ByTheSmallestNumberOfRounds()
    {
        Scenario Asked(double half) => Cell.Run(lifetimes: 4096).With(s => s with { Run = s.Run with { Precision = new([new(PreciseFigure.MeanDose, half)], 65536) } }).Build();
        double first = RunAnalysis.Run(new RunPlan(Asked(1))).Find("dose_mean_j_per_cm2")!.Estimate is { } e ? e.HalfWidth95!.Value / e.Get() : double.NaN;

        // The half-width shrinks with the root of the rounds: a third less needs 2.25 of them, give or take the error of the error (9 %).
        RunAnalysis run = RunAnalysis.RunToPrecision(new RunPlan(Asked(first / 1.5)));
        Assert.True(run.Precision!.IsMet);
        Assert.InRange(run.Precision.Lifetimes, 2 * 4096, 4 * 4096);
        PrecisionFinding finding = Assert.Single(run.Precision.Findings);
        Assert.True(finding.HalfWidth <= finding.Asked);
        Assert.Equal(run.Find("dose_mean_j_per_cm2")!.Estimate, finding.Estimate);
        Assert.Equal(1, RunAnalysis.RunToPrecision(new RunPlan(Asked(first))).Precision!.Looks);
    }

    [Fact]
    public void Estimate_OfWhatWouldBeEnough_IsThatOfTheRootLaw()
    {
        Scenario cell = Cell.Run(lifetimes: 4096).With(s => s with { Run = s.Run with { Precision = new([new(PreciseFigure.Ppk, 1e-3)], 4096) } }).Build();
        PrecisionVerdict verdict = RunAnalysis.RunToPrecision(new RunPlan(cell)).Precision!;
        PrecisionFinding finding = Assert.Single(verdict.Findings);
        Assert.True(verdict.EndedByCap && finding.Outcome == PrecisionOutcome.NotMet);
        double enough = 4096 * Math.Pow(finding.HalfWidth!.Value / 1e-3, 2);
        Assert.InRange(finding.Enough!.Value, enough, enough + 4096);
    }

    private static void Same(RunResult expected, RunResult found)
    {
        Assert.Equal(expected.Records.Length, found.Records.Length);
        Assert.True(expected.Records.AsSpan().SequenceEqual(found.Records.AsSpan(), EqualityComparer<Core.Summaries.LifetimeRecord>.Default), "records differ");
        Assert.Equal(expected.Total.BySite[0, 1], found.Total.BySite[0, 1]);
        Assert.Equal(expected.Total.Fans![0, 0], found.Total.Fans![0, 0]);
        Assert.Equal(expected.Total.Histograms[0, 0].Counts, found.Total.Histograms[0, 0].Counts);
        Assert.Equal(expected.Units.Select(u => u.BySite[0, 0]), found.Units.Select(u => u.BySite[0, 0]));
    }
}
