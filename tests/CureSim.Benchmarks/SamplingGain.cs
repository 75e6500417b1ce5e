using CureSim.Core.Cell;
using CureSim.Engine.Plan;
using CureSim.Reports.Tables;
using CureSim.Studies.Runs;

namespace CureSim.Benchmarks;

/// <summary>What stratified sampling gains over independent lifetimes, in variance and in time to an equal standard error.</summary>
/// <remarks>
/// Both ways are run with the same seeds. The squared error of a figure is the mean over seeds of the squared standard error that the run prints (by 64 batches, or by
/// lifetimes where they are independent and the figure is a ratio), so that with eight seeds a ratio has an error of about 9 %, and more where few lifetimes hold a figure.
/// Times are the least over seeds, in turns. Gain = variance ratio / time ratio: so many times less time to an equal standard error.
/// </remarks>
internal static class SamplingGain
{
    private static readonly string[] Figures =
    [
        "dose_mean_j_per_cm2", "dose_ppk", "dose_cpk", "bonds_nonconforming_conditional_ppm", "bonds_nonconforming_counted_ppm",
        "requalify_median_hours", "requalify_restricted_mean_hours", "time_out_percent", "excursions_per_year", "suspect_parts_per_year",
    ];

    private static readonly (string Name, string File, string[] Sets, int Lifetimes)[] Scenarios =
    [
        ("quick.yaml", "quick.yaml", [], 4096),
        ("quick.yaml, 512 lifetimes", "quick.yaml", [], 512),
        ("quick.yaml, 12 weeks", "quick.yaml", ["production.horizon=12 weeks"], 4096),
        ("quick.yaml, lower limit 5.9 J/cm2", "quick.yaml", ["window.dose.lower=5.9 J/cm2"], 4096),
        ("bench.yaml", "bench.yaml", ["window.dose.lower=6.0 J/cm2"], 4096),
        ("tail.yaml, spread at the part", "tail.yaml", [], 4096),
    ];

    public static int Run()
    {
        ResultTable.Write(Measure(seeds: 8));
        return 0;
    }

    public static Table Measure(int seeds, int mostLifetimes = int.MaxValue)
    {
        var table = new Table(
            "sampling",
            new("scenario", ColumnKind.Text), new("lifetimes", ColumnKind.Whole), new("method", ColumnKind.Text), new("figure", ColumnKind.Text),
            new("value", ColumnKind.Number), new("standard_error_independent", ColumnKind.Number), new("variance_ratio", ColumnKind.Number),
            new("time_ratio", ColumnKind.Number), new("gain", ColumnKind.Number));
        foreach (var (name, file, sets, many) in Scenarios)
        {
            var cell = Cases.Read(file, sets);
            int lifetimes = Math.Min(many, mostLifetimes);
            Method independent = new(), stratified = new();
            for (int s = 0; s < seeds; s++)
            {
                // In turns, so that both meet the same machine.
                independent.Add(cell, Sampling.Independent, lifetimes, (ulong)(101 + s));
                stratified.Add(cell, Sampling.Stratified, lifetimes, (ulong)(101 + s));
            }

            double time = stratified.Seconds / independent.Seconds;
            foreach (string figure in Figures)
            {
                if (independent.Of(figure, seeds) is { Square: > 0.0 } a && stratified.Of(figure, seeds) is { Square: > 0.0 } b)
                {
                    double ratio = a.Square / b.Square;
                    table.Add(
                        name, lifetimes, "stratified", figure, ResultTable.Digits(a.Value, 4), ResultTable.Digits(Math.Sqrt(a.Square)), ResultTable.Digits(ratio),
                        ResultTable.Digits(time), ResultTable.Digits(ratio / time));
                }
            }
        }

        return table;
    }

    private sealed class Method
    {
        private readonly Dictionary<string, List<(double Value, double Square)>> found = [];

        public double Seconds { get; private set; } = double.PositiveInfinity;

        public (double Value, double Square)? Of(string figure, int seeds) =>
            found.TryGetValue(figure, out var list) && list.Count == seeds ? (list.Average(v => v.Value), list.Average(v => v.Square)) : null;

        public void Add(Scenario cell, Sampling sampling, int lifetimes, ulong seed)
        {
            var run = cell.Run with { Worlds = 1, LifetimesPerWorld = lifetimes, Seed = seed, Sampling = sampling, Precision = null };
            var plan = new RunPlan(cell with { Run = run });
            var clock = System.Diagnostics.Stopwatch.StartNew();
            var analysis = RunAnalysis.Run(plan, threads: 1);
            Seconds = Math.Min(Seconds, clock.Elapsed.TotalSeconds);
            foreach (string figure in Figures)
            {
                if (analysis.Find(figure)?.Estimate is { Value: { } value } e)
                {
                    double error = e.StandardError ?? (e is { Lower95: { } low, Upper95: { } high } ? (high - low) / 3.92 : double.NaN);
                    (found.TryGetValue(figure, out var list) ? list : found[figure] = []).Add((value, error * error));
                }
            }
        }
    }
}
