using CureSim.Core.Cell;
using CureSim.Engine.Plan;
using CureSim.Reports.Tables;
using CureSim.Studies.Runs;

namespace CureSim.Benchmarks;

/// <summary>What a user buys: the time to an equal standard error of an answer, the engine beside the NumPy script.</summary>
/// <remarks>
/// The script draws lifetimes independently and counts. Its standard error of an answer about a cell of the engine is therefore that of the engine made to do the same: independent
/// lifetimes, counted fractions, as many exposures. Its time is what it takes for so many exposures of its own, simpler cell. So
/// ratio = (time of the script / time of the engine) × (squared error of plain sampling / squared error of the engine as it is used: stratified, conditional).
/// Squared errors are means over seeds of those that runs print; with eight seeds a ratio has an error of about 9 %. The two ways are estimates of the same thing: their difference is
/// printed in its own standard errors, and more than four stop the benchmark.
/// </remarks>
internal static class Answers
{
    private const double MostApart = 4.0;
    private const int ScriptSteps = 250;

    private static readonly (string Name, string[] Sets, string Engine, string Plain)[] Asked =
    [
        ("mean dose, J/cm2", [], "dose_mean_j_per_cm2", "dose_mean_j_per_cm2"),
        ("Ppk", [], "dose_ppk", "dose_ppk"),
        ("Cpk", [], "dose_cpk", "dose_cpk"),
        ("bonds nonconforming, ppm", [], "bonds_nonconforming_conditional_ppm", "bonds_nonconforming_counted_ppm"),
        ("bonds nonconforming at a lower limit of 6.0 J/cm2, ppm", ["window.dose.lower=6.0 J/cm2"], "bonds_nonconforming_conditional_ppm", "bonds_nonconforming_counted_ppm"),
    ];

    public static int Run()
    {
        ResultTable.Write(Measure(seeds: 8, lifetimes: 4096));
        return 0;
    }

    public static Table Measure(int seeds, int lifetimes)
    {
        var table = new Table(
            "answers",
            new("answer", ColumnKind.Text), new("value", ColumnKind.Number), new("standard_error", ColumnKind.Number),
            new("value_plain_sampling", ColumnKind.Number), new("standard_error_plain_sampling", ColumnKind.Number), new("apart_in_standard_errors", ColumnKind.Number),
            new("exposures_ratio_plain_script", ColumnKind.Number), new("exposures_ratio_in_place_script", ColumnKind.Number), new("variance_ratio", ColumnKind.Number),
            new("time_to_equal_error_ratio_plain_script", ColumnKind.Number), new("time_to_equal_error_ratio_in_place_script", ColumnKind.Number),
            new("value_of_scripts_own_cell", ColumnKind.Number), new("standard_error_of_scripts_own_cell", ColumnKind.Number));

        // Sixteen batches of lifetimes, whose spread is the script's own standard error.
        var ownCell = Yardstick.Run("plain", lifetimes, ScriptSteps, 16);
        foreach (var sets in Asked.Select(a => a.Sets).DistinctBy(s => string.Join(' ', s)))
        {
            var cell = Cases.Read("bench.yaml", sets);
            Sampled asUsed = new(), plain = new();
            double plainScript = double.PositiveInfinity, inPlaceScript = double.PositiveInfinity;
            for (int s = 0; s < seeds; s++)
            {
                // In turns, so that all meet the same machine; the quickest of each counts.
                asUsed.Add(cell, Sampling.Stratified, lifetimes, (ulong)(101 + s));
                plain.Add(cell, Sampling.Independent, lifetimes, (ulong)(101 + s));
                plainScript = Math.Min(plainScript, Nanoseconds("plain", lifetimes));
                inPlaceScript = Math.Min(inPlaceScript, Nanoseconds("in-place", lifetimes));
            }

            foreach (var (name, _, engineId, plainId) in Asked.Where(a => a.Sets.SequenceEqual(sets)))
            {
                if (asUsed.Of(engineId, seeds) is not { Square: > 0.0 } a || plain.Of(plainId, seeds) is not { Square: > 0.0 } b)
                {
                    continue;
                }

                double apart = (a.Value - b.Value) / Math.Sqrt((a.Square + b.Square) / seeds), variance = b.Square / a.Square;
                if (!(Math.Abs(apart) <= MostApart))
                {
                    throw new InvalidOperationException(FormattableString.Invariant($"{name}: {a.Value} and {b.Value} by plain sampling are {apart:F1} standard errors apart"));
                }

                double exposuresPlain = plainScript / asUsed.NanosecondsAnExposure, exposuresInPlace = inPlaceScript / asUsed.NanosecondsAnExposure;
                var own = sets.Length > 0 ? null : name.StartsWith("mean", StringComparison.Ordinal) ? ownCell?.Mean : name == "Ppk" ? ownCell?.Ppk
                    : name.StartsWith("bonds", StringComparison.Ordinal) ? ownCell?.Ppm : null;
                table.Add(
                    name, ResultTable.Digits(a.Value, 4), ResultTable.Digits(Math.Sqrt(a.Square)), ResultTable.Digits(b.Value, 4), ResultTable.Digits(Math.Sqrt(b.Square)),
                    ResultTable.Digits(apart, 2), Number(exposuresPlain), Number(exposuresInPlace), ResultTable.Digits(variance), Number(exposuresPlain * variance),
                    Number(exposuresInPlace * variance), Number(own?.Value), Number(own?.StandardError));
            }
        }

        return table;
    }

    private static double Nanoseconds(string style, int lifetimes) => 1e9 / Yardstick.ExposuresPerSecond(style, lifetimes, ScriptSteps) ?? double.PositiveInfinity;

    private static Reports.Tables.Cell Number(double? value) => value is { } v && double.IsFinite(v) ? ResultTable.Digits(v) : Reports.Tables.Cell.Missing;

    /// <summary>Runs of one cell by one way of sampling, over seeds.</summary>
    private sealed class Sampled
    {
        private readonly Dictionary<string, List<(double Value, double Square)>> found = [];

        /// <summary>Quickest run, its figures included.</summary>
        public double NanosecondsAnExposure { get; private set; } = double.PositiveInfinity;

        public (double Value, double Square)? Of(string figure, int seeds) =>
            found.TryGetValue(figure, out var list) && list.Count == seeds ? (list.Average(v => v.Value), list.Average(v => v.Square)) : null;

        public void Add(Scenario cell, Sampling sampling, int lifetimes, ulong seed)
        {
            var run = cell.Run with { Worlds = 1, LifetimesPerWorld = lifetimes, Seed = seed, Sampling = sampling, Precision = null };
            var clock = System.Diagnostics.Stopwatch.StartNew();
            var analysis = RunAnalysis.Run(new RunPlan(cell with { Run = run }), threads: 1);
            NanosecondsAnExposure = Math.Min(NanosecondsAnExposure, clock.Elapsed.TotalNanoseconds / analysis.Result.BondExposures);
            foreach (string figure in Asked.SelectMany(a => (string[])[a.Engine, a.Plain]).Distinct())
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
