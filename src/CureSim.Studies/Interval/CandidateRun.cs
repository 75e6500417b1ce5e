using System.Collections.Immutable;
using CureSim.Core.Cell;
using CureSim.Core.Statistics;
using CureSim.Core.Summaries;
using CureSim.Engine.Plan;
using CureSim.Engine.Runs;
using CureSim.Studies.Compare;
using CureSim.Studies.Runs;

namespace CureSim.Studies.Interval;

/// <summary>One timing simulated, with its figures.</summary>
public sealed class CandidateRun
{
    private readonly RunPiece whole;
    private readonly RunPiece[] units;
    private readonly bool unitsAreWorlds;
    private readonly Dictionary<string, KeyFigure> byId;

    private CandidateRun(CheckTiming timing, RunPiece whole, RunPiece[] units, bool unitsAreWorlds, ImmutableArray<KeyFigure> figures)
    {
        Timing = timing;
        this.whole = whole;
        this.units = units;
        this.unitsAreWorlds = unitsAreWorlds;
        Figures = figures;
        byId = figures.ToDictionary(f => f.Measure.Id);
    }

    /// <summary>The timing.</summary>
    public CheckTiming Timing { get; }

    /// <summary>Its scenario.</summary>
    public Scenario Scenario => whole.Plan.Scenario;

    /// <summary>Figures with Monte-Carlo intervals and bands over worlds.</summary>
    public ImmutableArray<KeyFigure> Figures { get; }

    /// <summary>Records of its lifetimes.</summary>
    public ReadOnlyMemory<LifetimeRecord> Records => whole.Records;

    /// <summary>A figure by its name; null when the scenario does not give it.</summary>
    public KeyFigure? Find(string id) => byId.GetValueOrDefault(id);

    /// <summary>Hours between the checks of the calendar.</summary>
    public double IntervalHours => Timing.IntervalSteps * Scenario.Production.StepSeconds / 3600.0;

    /// <summary>Simulates a scenario and finds its figures.</summary>
    /// <param name="timing">Its timing.</param>
    /// <param name="scenario">The scenario with that timing.</param>
    /// <param name="threads">Threads.</param>
    /// <param name="progress">Called now and then.</param>
    /// <param name="cancel">Stops it.</param>
    /// <param name="like">Another candidate, whose state table is used where it rests on the same quantities; null for none.</param>
    public static CandidateRun Run(
        CheckTiming timing, Scenario scenario, int threads, Action<RunProgress>? progress, CancellationToken cancel, CandidateRun? like = null)
    {
        var plan = new RunPlan(scenario, like?.whole.Plan);
        var result = new LocalRunner(plan, threads, progress).Run(cancel);
        return Of(timing, plan, result);
    }

    /// <summary>Figures of a finished run.</summary>
    public static CandidateRun Of(CheckTiming timing, RunPlan plan, RunResult result)
    {
        ArgumentNullException.ThrowIfNull(plan);
        ArgumentNullException.ThrowIfNull(result);

        // All figures rest on records; an empty summary keeps the piece small.
        var summary = new CellSummary(plan.Layout, withTimeline: false);
        var whole = new RunPiece(plan, summary, result.Records.ToArray());
        RunPiece[] Cut(ReadOnlyMemory<LifetimeRecord> records, Func<LifetimeRecord, int> by) =>
            [.. records.ToArray().GroupBy(by).OrderBy(g => g.Key).Select(g => new RunPiece(plan, summary, g.ToArray()))];
        bool worlds = result.UnitsAreWorlds;
        RunPiece[] units = Cut(whole.Records, worlds ? r => r.World : r => r.Batch);
        RunPiece[][] within = worlds ? [.. units.Select(u => Cut(u.Records, r => r.Batch))] : [];
        var figures = ImmutableArray.CreateBuilder<KeyFigure>();
        foreach (var measure in IntervalMeasures.For(plan.Scenario))
        {
            var estimate = worlds ? MeasureEstimator.BetweenWorlds(measure, whole, units) : MeasureEstimator.OneWorld(measure, whole, units);
            figures.Add(new(measure, WithOwnInterval(measure, estimate, worlds ? units : null, whole), worlds ? Band(measure, units, within) : null));
        }

        return new(timing, whole, units, worlds, figures.ToImmutable());
    }

    /// <summary>The difference of a figure, another run less this one, lifetime by lifetime (world by world).</summary>
    /// <exception cref="ArgumentException">The runs have other lifetimes.</exception>
    public Estimate Difference(CandidateRun other, string id)
    {
        ArgumentNullException.ThrowIfNull(other);
        if (other.whole.Records.Length != whole.Records.Length || other.Scenario.Run.Seed != Scenario.Run.Seed)
        {
            throw new ArgumentException("Runs are paired only when they have the same lifetimes and seed.", nameof(other));
        }

        if (Find(id) is not { } a || other.Find(id) is not { } b)
        {
            return Estimate.Withhold("one of the two has no such figure");
        }

        return (a.Estimate.Withheld ?? b.Estimate.Withheld) is { } reason
            ? Estimate.Withhold(reason)
            : PairedEstimator.Difference(a.Measure, b.Measure, b.Estimate.Get() - a.Estimate.Get(), new PairedUnits(whole, other.whole, units, other.units, unitsAreWorlds));
    }

    /// <summary>
    /// A proportion of checks near 0 or 100 % has no normal interval: with fewer than ten effective lifetimes on the rarer side the exact binomial one is taken,
    /// with as many effective trials as make the rarer side's support (Σa)²/Σa² its count.
    /// </summary>
    private static Estimate WithOwnInterval(Measure measure, Estimate estimate, RunPiece[]? worlds, RunPiece whole)
    {
        if (measure.Error == ErrorBy.Batches && worlds is null && estimate.Value is { } quantile)
        {
            return QuantileOf(measure, whole, quantile);
        }

        if (measure.Unit != "%" || !measure.Id.StartsWith("found_", StringComparison.Ordinal) || estimate.Value is not { } value)
        {
            // No figure here can be negative, so no interval need be.
            return estimate is { Value: { } v, Lower95: < 0.0 } ? Estimate.Bounded(v, estimate.StandardError, Math.Min(v, 0.0), estimate.Upper95, estimate.Count) : estimate;
        }

        bool high = value > 50.0;
        double a = 0.0, square = 0.0, m = 0.0;
        var units = worlds ?? [.. Enumerable.Range(0, whole.Records.Length).Select(i => whole with { Records = whole.Records.Slice(i, 1) })];
        foreach (var unit in units)
        {
            double x = 0.0, y = 0.0;
            foreach (ref readonly var record in unit.Records.Span)
            {
                var (numerator, denominator) = measure.Ratio!(record);
                x += high ? denominator - numerator : numerator;
                y += denominator;
            }

            a += x;
            square += x * x;
            m += y;
        }

        double support = square > 0.0 ? a * a / square : 0.0;
        if (support >= MeasureEstimator.LeastSupport || !(m > 0.0))
        {
            return estimate;
        }

        long seen = (long)Math.Round(support);
        long trials = a > 0.0 ? Math.Max(seen, (long)Math.Floor(m * support / a)) : (long)units.Count(u => u.Records.Length > 0);
        var exact = BinomialInterval.Counted(seen, trials);
        double lower = 100.0 * (exact.Lower95 ?? 0.0), upper = 100.0 * (exact.Upper95 ?? 1.0);
        return high
            ? Estimate.Bounded(value, null, Math.Min(value, 100.0 - upper), Math.Max(value, 100.0 - lower), estimate.Count)
            : Estimate.Bounded(value, null, Math.Min(value, lower), Math.Max(value, upper), estimate.Count);
    }

    // Order statistics whose ranks are 1.96 standard deviations of the binomial count from that of the quantile (W. J. Conover, Practical Nonparametric Statistics, section 3.2).
    private static Estimate QuantileOf(Measure measure, RunPiece whole, double value)
    {
        const double P = 0.95;
        double[] sorted = [.. Enumerable.Range(0, whole.Records.Length).Select(i => measure.Value(whole with { Records = whole.Records.Slice(i, 1) }) ?? 0.0).Order()];
        double n = sorted.Length, half = 1.96 * Math.Sqrt(n * P * (1.0 - P));
        if (n < MeasureEstimator.LeastLifetimes)
        {
            return Estimate.Bounded(value, null, null, null, sorted.Length);
        }

        double lower = sorted[(int)Math.Max(0.0, Math.Floor((n * P) - half) - 1.0)], upper = sorted[(int)Math.Min(n - 1.0, Math.Ceiling((n * P) + half))];
        return Estimate.Bounded(value, (upper - lower) / 3.92, Math.Min(value, lower), Math.Max(value, upper), sorted.Length);
    }

    private static WorldBand Band(Measure measure, RunPiece[] worlds, RunPiece[][] within)
    {
        var values = new double[worlds.Length];
        var variances = new double[worlds.Length];
        for (int w = 0; w < worlds.Length; w++)
        {
            var estimate = WithOwnInterval(measure, MeasureEstimator.OneWorld(measure with { NeedsSupport = false }, worlds[w], within[w]), null, worlds[w]);
            double? error = estimate.StandardError ?? (estimate is { Lower95: { } l, Upper95: { } u } ? (u - l) / 3.92 : null);
            if (estimate.Value is not { } value || error is not { } e || !double.IsFinite(value))
            {
                return new(null, null, null, null, worlds.Length, "some worlds cannot give the figure, or not with its error");
            }

            if (measure.BandInLogs && !(value > 0.0))
            {
                return new(null, null, null, null, worlds.Length, "some worlds have none, so a band in logarithms cannot be formed");
            }

            values[w] = measure.BandInLogs ? Math.Log(value) : value;
            variances[w] = measure.BandInLogs ? RunAnalysis.OfLogarithm(e * e, value) : e * e;
        }

        var band = WorldBand.Of(values, variances);
        return measure.BandInLogs && band is { Mean: { } mean, Lower05: { } low, Upper95: { } high }
            ? band with { Mean = Math.Exp(mean), Lower05 = Math.Exp(low), Upper95 = Math.Exp(high) }
            : band;
    }
}
