using System.Collections.Immutable;
using CureSim.Core.Cell;
using CureSim.Core.Logs;
using CureSim.Core.Statistics;
using CureSim.Engine.Block;
using CureSim.Engine.Plan;
using CureSim.Studies.Interval;

namespace CureSim.Studies.Fit;

/// <summary>One reading beside what was simulated for its time and site; irradiances in W/m².</summary>
public sealed record PredictedReading(double Hours, string Site, double Read, double Lower, double Middle, double Upper, bool Inside);

/// <summary>Whether a plant's as-found readings look like those of the cells that a scenario simulates.</summary>
/// <param name="Points">Readings with their simulated 90 % bands.</param>
/// <param name="Inside">Readings inside.</param>
/// <param name="Lifetimes">Lifetimes simulated.</param>
/// <param name="PValue">Share of simulated cells with at least as many readings outside the band; null when withheld.</param>
/// <param name="Withheld">Why there is none.</param>
/// <remarks>
/// A posterior predictive check (A. Gelman, X.-L. Meng and H. Stern, Statistica Sinica 6 (1996) 733; recalled from memory): the statistic is the number of as-found
/// readings outside the pointwise 5 … 95 % band, p = (1 + cells with at least as many)/(1 + cells). Readings of one cell hang together, so the count of a
/// single cell may be far from 10 %: cells, not readings, are counted.
/// </remarks>
public sealed record PredictiveCheck(ImmutableArray<PredictedReading> Points, int Inside, int Lifetimes, double? PValue, string? Withheld)
{
    /// <summary>Most lifetimes simulated.</summary>
    public const int MostLifetimes = 400;

    /// <summary>p below which the scenario contradicts the log: common practice, no source.</summary>
    public const double Contradiction = 0.05;

    /// <summary>Readings compared.</summary>
    public int Compared => Points.Length;

    /// <summary>True when the scenario contradicts the log.</summary>
    public bool Contradicts => PValue < Contradiction;

    /// <summary>Simulates and compares.</summary>
    public static PredictiveCheck Of(Scenario scenario, ReadingLog log, int threads, CancellationToken cancel, Action<double>? progress = null)
    {
        ArgumentNullException.ThrowIfNull(scenario);
        ArgumentNullException.ThrowIfNull(log);
        var (checks, why) = LoggedChecks.Of(log, scenario);
        double horizon = scenario.Production.StepCount * scenario.Production.StepSeconds, half = 0.5 * (scenario.Checks?.IntervalSteps ?? 0) * scenario.Production.StepSeconds;
        LoggedCheck[] compared = [.. checks.Where(c => c.Seconds <= horizon)];
        if (why is not null || compared.Length == 0)
        {
            return new([], 0, 0, null, why ?? "no as-found reading lies within the scenario's horizon");
        }

        var plan = new RunPlan(scenario with { Run = scenario.Run with { PartsAStep = 1 } });
        int worlds = scenario.Run.Worlds, n = (int)Math.Min(MostLifetimes, (long)worlds * scenario.Run.LifetimesPerWorld), done = 0;
        CellModel[] models = [.. Enumerable.Range(0, Math.Min(worlds, n)).Select(plan.ModelOf)];
        var simulated = new double[n][];
        Parallel.For(0, n, new ParallelOptions { MaxDegreeOfParallelism = Math.Max(1, threads), CancellationToken = cancel }, i =>
        {
            simulated[i] = At(OneLifetime.Trace(plan, models[i % models.Length], (uint)(i / models.Length)), compared, half);
            progress?.Invoke(Interlocked.Increment(ref done) / (double)n);
        });

        var points = ImmutableArray.CreateBuilder<PredictedReading>();
        var outside = new int[n];
        int seen = 0;
        for (int k = 0; k < compared.Length; k++)
        {
            double[] column = [.. simulated.Select(s => s[k])];
            double[] sorted = [.. column.Where(double.IsFinite).Order()];
            if (sorted.Length < n / 2 || sorted.Length < 20)
            {
                continue;
            }

            double low = SampleQuantile.OfSorted(sorted, 0.05), middle = SampleQuantile.OfSorted(sorted, 0.5), high = SampleQuantile.OfSorted(sorted, 0.95), read = compared[k].LogReading;
            bool inside = read >= low && read <= high;
            seen += inside ? 1 : 0;
            points.Add(new(compared[k].Seconds / 3600.0, compared[k].SiteName, Math.Exp(read), Math.Exp(low), Math.Exp(middle), Math.Exp(high), inside));
            for (int i = 0; i < n; i++)
            {
                outside[i] += double.IsFinite(column[i]) && (column[i] < low || column[i] > high) ? 1 : 0;
            }
        }

        if (points.Count == 0)
        {
            return new([], 0, n, null, "no simulated check lies near a reading of the log");
        }

        int out0 = points.Count - seen;
        return new(points.ToImmutable(), seen, n, (1.0 + outside.Count(o => o >= out0)) / (1.0 + n), null);
    }

    // The as-found reading of the check nearest in time, at most half an interval away; NaN without one.
    private static double[] At(LifetimeTrace trace, LoggedCheck[] checks, double half)
    {
        var bySite = trace.Readings.Where(r => r.AsFound).GroupBy(r => r.Site).ToDictionary(g => g.Key, g => g.ToArray());
        return [.. checks.Select(c => bySite.TryGetValue(c.Site, out var readings) && Nearest(readings, c.Seconds) is { } r && Math.Abs(r.Seconds - c.Seconds) <= half ? Math.Log(r.Indication) : double.NaN)];
    }

    internal static TraceReading? Nearest(TraceReading[] readings, double seconds)
    {
        int low = 0, high = readings.Length;
        while (low < high)
        {
            int middle = (low + high) / 2;
            (low, high) = readings[middle].Seconds < seconds ? (middle + 1, high) : (low, middle);
        }

        var after = low < readings.Length ? readings[low] : null;
        var before = low > 0 ? readings[low - 1] : null;
        return after is null ? before : before is null || after.Seconds - seconds < seconds - before.Seconds ? after : before;
    }
}
