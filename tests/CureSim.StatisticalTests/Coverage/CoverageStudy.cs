using CureSim.Core.Cell;
using CureSim.Core.Statistics;
using CureSim.Engine.Plan;
using CureSim.Studies.Runs;

namespace CureSim.StatisticalTests.Coverage;

/// <summary>How often the printed 95 % interval of a figure holds the true value.</summary>
/// <param name="Scenario">The cell.</param>
/// <param name="Figure">The figure's name.</param>
/// <param name="Truth">True value, in the printed unit.</param>
/// <param name="TruthHalfWidth">95 % half-width of the true value itself; 0 for a closed form.</param>
/// <param name="MeanHalfWidth">Mean half-width of the intervals.</param>
/// <param name="Held">Intervals that hold the true value.</param>
/// <param name="Above">Intervals that lie wholly above it.</param>
/// <param name="Below">Intervals that lie wholly below it.</param>
/// <param name="Withheld">Runs that print no interval.</param>
/// <param name="Runs">Repeated runs.</param>
/// <param name="Mean">Mean of the printed values.</param>
/// <param name="MeanError">Its standard error, from their scatter.</param>
/// <param name="HeldWhenShorter">Intervals that would hold it with two thirds of their length.</param>
public sealed record CoverageRow(
    string Scenario, string Figure, double Truth, double TruthHalfWidth, double MeanHalfWidth, int Held, int Above, int Below, int Withheld, int Runs, double Mean, double MeanError, int HeldWhenShorter)
{
    /// <summary>Part of the printed intervals that hold the true value, %.</summary>
    public double Percent => 100.0 * Held / (Runs - Withheld);
}

/// <summary>Repeats small runs with different seeds and counts how often their intervals hold the value that one very long run gives.</summary>
public static class CoverageStudy
{
    /// <summary>Repeated runs.</summary>
    public const int Runs = 400;

    /// <summary>
    /// The long run has this many times the lifetimes: its error then adds 1/50 to the variance of a difference, which lowers a coverage of 95 % by 0.2 %.
    /// </summary>
    public const int LongRun = 50;

    private const string Median = "requalify_median_hours";

    /// <summary>Figures that are looked at.</summary>
    public static readonly string[] Figures =
    [
        "dose_mean_j_per_cm2", "dose_cpk", "dose_ppk", "bonds_nonconforming_conditional_ppm", "bonds_nonconforming_counted_ppm", Median,
    ];

    /// <summary>Coverage of every figure of a cell whose lifetimes are independent.</summary>
    public static CoverageRow[] Of(CoverageScenario scenario)
    {
        var truth = RunAnalysis.Run(new RunPlan(Sized(scenario, LongRun * scenario.Lifetimes, 900_001, Core.Cell.Sampling.Independent)));
        var found = Repeated(scenario, Core.Cell.Sampling.Independent, Runs);
        return [.. Figures.Select((f, k) => Row(scenario.Name, f, True(scenario, f, truth.Find(f)!.Estimate), [.. found.Select(e => e[k])])).OfType<CoverageRow>()];
    }

    /// <summary>The same with stratified lifetimes, held against the truth that is already known.</summary>
    /// <param name="scenario">The cell.</param>
    /// <param name="runs">Repeated runs.</param>
    /// <param name="known">What is found with independent lifetimes.</param>
    public static CoverageRow[] OfStratified(CoverageScenario scenario, int runs, IEnumerable<CoverageRow> known)
    {
        var found = Repeated(scenario, Core.Cell.Sampling.Stratified, runs);
        return [.. known.Select(row => Row(
            scenario.Name, row.Figure, Estimate.Bounded(row.Truth, null, row.Truth - row.TruthHalfWidth, row.Truth + row.TruthHalfWidth, 0),
            [.. found.Select(e => e[Array.IndexOf(Figures, row.Figure)])])!)];
    }

    private static Scenario Sized(CoverageScenario scenario, int lifetimes, ulong seed, Core.Cell.Sampling sampling) =>
        scenario.Cell.Run(lifetimes: lifetimes, partsAStep: scenario.PartsAStep, seed: seed).With(s => s with { Run = s.Run with { Sampling = sampling } }).Build();

    private static Estimate[][] Repeated(CoverageScenario scenario, Core.Cell.Sampling sampling, int runs)
    {
        var found = new Estimate[runs][];
        var plans = Enumerable.Range(0, runs).Select(i => Sized(scenario, scenario.Lifetimes, (ulong)(1 + i), sampling)).ToArray();
        Parallel.For(0, runs, i =>
        {
            var run = RunAnalysis.Run(new RunPlan(plans[i]), threads: 1);
            found[i] = [.. Figures.Select(f => run.Find(f)!.Estimate)];
        });
        return found;
    }

    private static Estimate True(CoverageScenario scenario, string figure, Estimate longRun) =>
        figure != Median ? longRun : scenario.MedianSeconds is { } exact ? Estimate.Exact(exact / 3600.0) : Estimate.Withhold("times on the grid of steps");

    private static CoverageRow? Row(string name, string figure, Estimate truth, Estimate[] found)
    {
        if (truth.Value is not { } x)
        {
            return null;
        }

        var printed = found.Where(e => e.HalfWidth95 is not null).ToArray();
        return new(
            name, figure, x, truth.HalfWidth95 ?? double.NaN, printed.Select(e => e.HalfWidth95!.Value).DefaultIfEmpty(double.NaN).Average(),
            printed.Count(e => e.Lower95 <= x && x <= e.Upper95), printed.Count(e => e.Lower95 > x), printed.Count(e => e.Upper95 < x),
            found.Length - printed.Length, found.Length,
            SampleMoments.Of([.. printed.Select(e => e.Value!.Value)]).Mean,
            (SampleMoments.Of([.. printed.Select(e => e.Value!.Value)]).StandardDeviation ?? double.NaN) / Math.Sqrt(printed.Length),
            printed.Count(e => e.Value - ((e.Value - e.Lower95) * 2.0 / 3.0) <= x && x <= e.Value + ((e.Upper95 - e.Value) * 2.0 / 3.0)));
    }
}
