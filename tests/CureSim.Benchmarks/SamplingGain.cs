using CureSim.Core.Cell;
using CureSim.Engine.Plan;
using CureSim.Reports.Tables;
using CureSim.Studies.Runs;

namespace CureSim.Benchmarks;

/// <summary>What stratified sampling gains over independent lifetimes, in variance and in time to an equal standard error.</summary>
/// <remarks>
/// Both ways are run with the same seeds. The squared error of a figure is the mean over seeds of the squared standard error by 64 batches, which are independent
/// under both, so that with eight seeds a ratio has an error of about 9 %. Times are the least of all seeds, in turns. Gain = variance ratio / time ratio.
/// </remarks>
internal static class SamplingGain
{
    private static readonly string[] Figures =
    [
        "dose_mean_j_per_cm2", "dose_ppk", "dose_cpk", "bonds_nonconforming_conditional_ppm", "bonds_nonconforming_counted_ppm",
        "requalify_median_hours", "requalify_restricted_mean_hours", "time_out_percent", "excursions_per_year", "suspect_parts_per_year",
    ];

    private static readonly (string Name, string File, string[] Sets)[] Scenarios =
    [
        ("quick.yaml", "quick.yaml", []),
        ("quick.yaml, 12 weeks", "quick.yaml", ["production.horizon=12 weeks"]),
        ("hub-bond-lamp.yaml, one world", "hub-bond-lamp.yaml", []),
        ("connector-unknowns.yaml", "connector-unknowns.yaml", []),
        ("bench.yaml", "bench.yaml", ["window.dose.lower=6.0 J/cm2"]),
        ("tail.yaml, spread at the part", "tail.yaml", []),
    ];

    public static int Run()
    {
        ResultTable.Write(Measure(lifetimes: 4096, seeds: 4));
        return 0;
    }

    public static Table Measure(int lifetimes, int seeds)
    {
        var table = new Table(
            "sampling",
            new("scenario", ColumnKind.Text), new("lifetimes", ColumnKind.Whole), new("method", ColumnKind.Text), new("figure", ColumnKind.Text),
            new("value", ColumnKind.Number), new("standard_error_independent", ColumnKind.Number), new("variance_ratio", ColumnKind.Number),
            new("time_ratio", ColumnKind.Number), new("gain", ColumnKind.Number));
        foreach (var (name, file, sets) in Scenarios)
        {
            var cell = Cases.Read(file, sets);
            if (cell.Run.Worlds > 1)
            {
                continue;
            }

            var (independent, slow) = Of(cell, Sampling.Independent, lifetimes, seeds);
            var (stratified, fast) = Of(cell, Sampling.Stratified, lifetimes, seeds);
            double time = fast / slow;
            foreach (string figure in Figures)
            {
                if (independent.TryGetValue(figure, out var a) && stratified.TryGetValue(figure, out var b) && a.Squares > 0.0 && b.Squares > 0.0)
                {
                    double ratio = a.Squares / b.Squares;
                    table.Add(
                        name, lifetimes, "stratified", figure, ResultTable.Digits(a.Value, 4), ResultTable.Digits(Math.Sqrt(a.Squares)), ResultTable.Digits(ratio),
                        ResultTable.Digits(time), ResultTable.Digits(ratio / time));
                }
            }
        }

        return table;
    }

    private static (Dictionary<string, (double Value, double Squares)> Figures, double Seconds) Of(Scenario cell, Sampling sampling, int lifetimes, int seeds)
    {
        var found = new Dictionary<string, List<(double Value, double Square)>>();
        double seconds = double.PositiveInfinity;
        for (int s = 0; s < seeds; s++)
        {
            var run = cell.Run with { Worlds = 1, LifetimesPerWorld = lifetimes, Seed = (ulong)(101 + s), Sampling = sampling, Precision = null };
            var plan = new RunPlan(cell with { Run = run });
            var clock = System.Diagnostics.Stopwatch.StartNew();
            var analysis = RunAnalysis.Run(plan, threads: 1);
            seconds = Math.Min(seconds, clock.Elapsed.TotalSeconds);
            foreach (string figure in Figures)
            {
                if (analysis.Find(figure)?.Estimate is { Value: { } value } e)
                {
                    double error = e.StandardError ?? (e is { Lower95: { } low, Upper95: { } high } ? (high - low) / 3.92 : double.NaN);
                    if (!found.TryGetValue(figure, out var list))
                    {
                        found[figure] = list = [];
                    }

                    list.Add((value, error * error));
                }
            }
        }

        return (found.Where(f => f.Value.Count == seeds).ToDictionary(f => f.Key, f => (f.Value.Average(v => v.Value), f.Value.Average(v => v.Square))), seconds);
    }
}
