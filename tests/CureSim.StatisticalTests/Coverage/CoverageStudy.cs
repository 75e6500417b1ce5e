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

    /// <summary>Coverage of every figure of a cell.</summary>
    /// <param name="scenario">The cell.</param>
    /// <param name="sampling">How lifetimes of the repeated runs are drawn; those of the long run are always independent.</param>
    /// <param name="runs">Repeated runs.</param>
    public static CoverageRow[] Of(CoverageScenario scenario, Core.Cell.Sampling sampling = Core.Cell.Sampling.Independent, int runs = Runs)
    {
        Scenario Sized(int lifetimes, ulong seed, Core.Cell.Sampling drawn) => scenario.Cell.Run(lifetimes: lifetimes, partsAStep: scenario.PartsAStep, seed: seed)
            .With(s => s with { Run = s.Run with { Sampling = drawn } }).Build();
        var truth = RunAnalysis.Run(new RunPlan(Sized(LongRun * scenario.Lifetimes, 900_001, Core.Cell.Sampling.Independent)));
        var found = new Estimate[runs][];
        var plans = Enumerable.Range(0, runs).Select(i => Sized(scenario.Lifetimes, (ulong)(1 + i), sampling)).ToArray();
        Parallel.For(0, runs, i =>
        {
            var run = RunAnalysis.Run(new RunPlan(plans[i]), threads: 1);
            found[i] = [.. Figures.Select(f => run.Find(f)!.Estimate)];
        });
        return [.. Figures.Select((f, k) => Row(scenario.Name, f, True(scenario, f, truth.Find(f)!.Estimate), [.. found.Select(e => e[k])])).OfType<CoverageRow>()];
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
