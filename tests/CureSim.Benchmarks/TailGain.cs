using CureSim.Reports.Tables;
using CureSim.Studies.Runs;

namespace CureSim.Benchmarks;

/// <summary>How long a fraction nonconforming takes to a standard error of a tenth, counted and averaged over judged states.</summary>
/// <remarks>
/// Both come from one run, whose time therefore holds the judging too: the gain in time equals the gain in variance and is a little too small. The variance of
/// counting is taken from the mean of independent bonds where none or few are counted: p(1 − p)/n, to which the spread between lifetimes is added.
/// </remarks>
internal static class TailGain
{
    public static int Run()
    {
        ResultTable.Write(Measure(lifetimes: 4096));
        return 0;
    }

    public static Table Measure(int lifetimes)
    {
        var table = new Table(
            "tail",
            new("scenario", ColumnKind.Text),
            new("lifetimes", ColumnKind.Whole),
            new("bonds_nonconforming_ppm", ColumnKind.Number),
            new("standard_error_conditional_ppm", ColumnKind.Number),
            new("standard_error_counted_ppm", ColumnKind.Number),
            new("seconds_to_a_tenth_conditional", ColumnKind.Number),
            new("seconds_to_a_tenth_counted", ColumnKind.Number),
            new("gain_in_time", ColumnKind.Number),
            new("bound_on_the_gain", ColumnKind.Number),
            new("gain_over_bound", ColumnKind.Number));
        foreach (var (file, sets) in ((string, string[])[])[("tail.yaml", []), ("bench.yaml", ["window.dose.lower=6.0 J/cm2"]), ("quick.yaml", [])])
        {
            var clock = System.Diagnostics.Stopwatch.StartNew();
            var run = RunAnalysis.Run(Cases.Plan(Cases.Read(file, sets), lifetimes), threads: 1);
            double seconds = clock.Elapsed.TotalSeconds;
            var records = run.Result.Records;
            double states = records.Sum(r => r.ConditionalStates), sampled = records.Sum(r => r.BondsSampled);
            double p = records.Sum(r => r.ConditionalBonds) / states;

            // Between lifetimes, for a mean over lifetimes of equal weight.
            double conditional = Variance(records.Select(r => r.ConditionalBonds / r.ConditionalStates));
            double noise = p * (1.0 - p) / (sampled / records.Length);
            double counted = Variance(records.Select(r => r.BondsNonconforming / r.BondsSampled));
            double between = Math.Max(0.0, counted - noise);

            // Counting cannot do better than the noise of its own bonds; the bound takes that noise away.
            double total = Math.Max(counted, noise), bound = between > 0.0 ? total / between : double.PositiveInfinity;
            double errorConditional = Math.Sqrt(conditional / records.Length), errorCounted = Math.Sqrt(total / records.Length);
            double wanted = 0.1 * p, gain = total / conditional;
            table.Add(
                file, records.Length, Digits(1e6 * p), Digits(1e6 * errorConditional), Digits(1e6 * errorCounted),
                Digits(seconds * Square(errorConditional / wanted)), Digits(seconds * Square(errorCounted / wanted)), Digits(gain),
                double.IsFinite(bound) ? Digits(bound) : Cell.Missing, double.IsFinite(bound) ? Digits(gain / bound) : Cell.Missing);
        }

        return table;
    }

    private static Cell Digits(double value) => double.IsFinite(value) ? ResultTable.Digits(value) : Cell.Missing;

    private static double Square(double x) => x * x;

    private static double Variance(IEnumerable<double> values)
    {
        double[] all = [.. values];
        double mean = all.Average();
        return all.Sum(v => Square(v - mean)) / (all.Length - 1);
    }
}
