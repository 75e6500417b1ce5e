using System.Collections.Immutable;
using CureSim.Core.Cell;
using CureSim.Core.Statistics;
using CureSim.Core.Summaries;
using CureSim.Engine.Plan;
using CureSim.Engine.Runs;

namespace CureSim.Studies.Runs;

/// <summary>What one world says of every figure: value and squared Monte-Carlo error.</summary>
internal sealed record WorldFigures(double?[] Values, double[] Variances);

/// <summary>All figures of a run with their intervals. A pure function of the run's result.</summary>
public sealed class RunAnalysis
{
    private readonly Dictionary<string, KeyFigure> byId;
    private readonly Lazy<ImmutableArray<BandShares>> shares;
    private readonly WorldFigures[] within;

    private RunAnalysis(RunResult result, RunPiece whole, ImmutableArray<KeyFigure> figures, WorldFigures[] within)
    {
        this.within = within;
        shares = new(() => Runs.BandShares.Of(this));
        Result = result;
        Whole = whole;
        Figures = figures;
        byId = figures.ToDictionary(f => f.Measure.Id);
    }

    /// <summary>The run.</summary>
    public RunResult Result { get; }

    /// <summary>Everything together.</summary>
    public RunPiece Whole { get; }

    /// <summary>What ended a run to a precision; null when the size of the run was given.</summary>
    public PrecisionVerdict? Precision { get; private init; }

    /// <summary>The figures, in printing order.</summary>
    public ImmutableArray<KeyFigure> Figures { get; }

    /// <summary>Which part of the band over worlds each unknown input makes, for the figures that are asked for first; empty with one world or nothing unknown.</summary>
    public ImmutableArray<BandShares> BandShares => shares.Value;

    /// <summary>The scenario.</summary>
    public Scenario Scenario => Result.Plan.Scenario;

    /// <summary>A figure by its name; null when the run does not give it.</summary>
    public KeyFigure? Find(string id) => byId.GetValueOrDefault(id);

    /// <summary>Runs a plan with the numbers of worlds and lifetimes that it has, whatever precision its scenario asks for, and analyses it.</summary>
    public static RunAnalysis Run(RunPlan plan, int threads = 0, Action<RunProgress>? progress = null, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(plan);
        var measures = RunMeasures.For(plan);
        return Of(Runner(plan, measures, threads, progress).Run(cancel), measures);
    }

    /// <summary>
    /// Runs a plan until its figures are as precise as its scenario asks, or its cap is reached, and analyses it; a scenario that asks for no precision is
    /// run with the numbers that it has. Rounds are added in the manner of JCGM 101:2008, 7.9.
    /// </summary>
    public static RunAnalysis RunToPrecision(RunPlan plan, int threads = 0, Action<RunProgress>? progress = null, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(plan);
        if (plan.Scenario.Run.Precision is not { } asked)
        {
            return Run(plan, threads, progress, cancel);
        }

        var measures = RunMeasures.For(plan);
        var rule = new PrecisionRule(asked, measures);
        PrecisionVerdict? verdict = null;
        long Likely(RunResult soFar)
        {
            verdict = rule.Judge(soFar);
            return verdict.LikelyEnough;
        }

        var result = Runner(plan, measures, threads, progress).RunRounds(asked.MostLifetimes, Likely, cancel);
        var analysis = Of(result, measures);
        return new(analysis.Result, analysis.Whole, analysis.Figures, analysis.within) { Precision = verdict };
    }

    /// <summary>Estimates of some figures of a finished run, with their Monte-Carlo intervals.</summary>
    internal static ImmutableArray<Estimate> Estimates(RunResult result, IReadOnlyCollection<Measure> measures)
    {
        var plan = result.Plan;
        var records = result.Records.ToArray();
        var whole = new RunPiece(plan, result.Total, records);
        if (!result.UnitsAreWorlds)
        {
            var batches = Batches(plan, result.Units, records);
            return [.. measures.Select(m => MeasureEstimator.OneWorld(m, whole, batches))];
        }

        int perWorld = plan.Scenario.Run.LifetimesPerWorld;
        RunPiece[] worlds = [.. result.Units.Select((u, w) => new RunPiece(plan, u, records.AsMemory(w * perWorld, perWorld)))];
        return [.. measures.Select(m => MeasureEstimator.BetweenWorlds(m, whole, worlds))];
    }

    private static LocalRunner Runner(RunPlan plan, ImmutableArray<Measure> measures, int threads, Action<RunProgress>? progress) =>
        new(plan, threads, progress, (_, batches, whole, records) => OfWorld(plan, measures, batches, whole, records));

    /// <summary>Analyses a finished run.</summary>
    private static RunAnalysis Of(RunResult result, ImmutableArray<Measure> measures)
    {
        var estimates = Estimates(result, measures);
        var whole = new RunPiece(result.Plan, result.Total, result.Records.AsMemory());
        WorldFigures[] within = [.. result.WithinWorld.Select(w => (WorldFigures)w!)];
        return new(result, whole, [.. measures.Select((m, i) => new KeyFigure(m, estimates[i], result.UnitsAreWorlds ? Band(m, i, within) : null))], within);
    }

    /// <summary>What each world says of a figure on the scale of its band, with squared Monte-Carlo errors; null and the reason when some world cannot say it.</summary>
    internal (double[] Values, double[] Variances)? WorldAnswers(string id, out string? withheld)
    {
        int i = Figures.Select(f => f.Measure.Id).ToList().IndexOf(id);
        return Answers(Figures[i].Measure, i, within, out withheld);
    }

    private static RunPiece[] Batches(RunPlan plan, ImmutableArray<CellSummary> units, LifetimeRecord[] records)
    {
        var byBatch = new List<LifetimeRecord>[units.Length];
        for (int b = 0; b < byBatch.Length; b++)
        {
            byBatch[b] = [];
        }

        foreach (var record in records)
        {
            byBatch[record.Batch].Add(record);
        }

        return [.. units.Select((u, b) => new RunPiece(plan, u, byBatch[b].ToArray()))];
    }

    private static WorldFigures OfWorld(
        RunPlan plan, ImmutableArray<Measure> measures, ImmutableArray<CellSummary> batches, CellSummary whole, ImmutableArray<LifetimeRecord> records)
    {
        var array = records.ToArray();
        var piece = new RunPiece(plan, whole, array);
        var pieces = Batches(plan, batches, array);
        var values = new double?[measures.Length];
        var variances = new double[measures.Length];
        for (int i = 0; i < measures.Length; i++)
        {
            values[i] = measures[i].Value(piece);
            double error = MeasureEstimator.OneWorld(measures[i] with { NeedsSupport = false }, piece, pieces) is { } e
                ? e.StandardError ?? (e is { Lower95: { } l, Upper95: { } u } ? (u - l) / 3.92 : double.NaN)
                : double.NaN;
            variances[i] = error * error;
        }

        return new(values, variances);
    }

    private static WorldBand Band(Measure measure, int i, WorldFigures[] within)
    {
        if (Answers(measure, i, within, out string? withheld) is not var (values, variances))
        {
            return new(null, null, null, null, within.Length, withheld);
        }

        var band = WorldBand.Of(values, variances);
        return measure.BandInLogs && band.Lower05 is { } low && band.Upper95 is { } high
            ? band with { Mean = Math.Exp(band.Mean!.Value), Lower05 = Math.Exp(low), Upper95 = Math.Exp(high) }
            : band;
    }

    /// <summary>Variance of the logarithm of a value &gt; 0, to first order. The square of a probability of nothing would underflow, and with it the quotient.</summary>
    internal static double OfLogarithm(double variance, double value)
    {
        double relative = Math.Sqrt(variance) / value;
        return relative * relative;
    }

    private static (double[] Values, double[] Variances)? Answers(Measure measure, int i, WorldFigures[] within, out string? withheld)
    {
        double[] values = new double[within.Length], variances = new double[within.Length];
        withheld = null;
        for (int w = 0; w < within.Length; w++)
        {
            var world = within[w];
            if (world.Values[i] is not { } value || !double.IsFinite(value))
            {
                withheld = "some worlds cannot give the figure";
                return null;
            }

            double variance = world.Variances[i];
            if (measure.BandInLogs && !(value > 0.0) && measure.Id.Contains("_counted_", StringComparison.Ordinal) && world.Values[i - 1] is { } conditional)
            {
                // A world in which none was counted is given its conditional estimate, which stands just before the count.
                (value, variance) = (conditional, world.Variances[i - 1]);
            }

            if (double.IsNaN(variance))
            {
                withheld = "the noise inside a world is not known, so it cannot be told from ignorance; 64 lifetimes a world are needed";
                return null;
            }

            if (measure.BandInLogs && !(value > 0.0))
            {
                withheld = "some worlds have none, so a band in logarithms cannot be formed";
                return null;
            }

            (values[w], variances[w]) = measure.BandInLogs ? (Math.Log(value), OfLogarithm(variance, value)) : (value, variance);
        }

        return (values, variances);
    }
}
