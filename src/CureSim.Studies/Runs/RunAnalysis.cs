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

    private RunAnalysis(RunResult result, RunPiece whole, ImmutableArray<KeyFigure> figures)
    {
        Result = result;
        Whole = whole;
        Figures = figures;
        byId = figures.ToDictionary(f => f.Measure.Id);
    }

    /// <summary>The run.</summary>
    public RunResult Result { get; }

    /// <summary>Everything together.</summary>
    public RunPiece Whole { get; }

    /// <summary>The figures, in printing order.</summary>
    public ImmutableArray<KeyFigure> Figures { get; }

    /// <summary>The scenario.</summary>
    public Scenario Scenario => Result.Plan.Scenario;

    /// <summary>A figure by its name; null when the run does not give it.</summary>
    public KeyFigure? Find(string id) => byId.GetValueOrDefault(id);

    /// <summary>Runs a plan and analyses it.</summary>
    public static RunAnalysis Run(RunPlan plan, int threads = 0, Action<RunProgress>? progress = null, CancellationToken cancel = default)
    {
        var measures = RunMeasures.For(plan);
        object? OnWorld(CellModel model, ImmutableArray<CellSummary> batches, CellSummary whole, ImmutableArray<LifetimeRecord> records) =>
            OfWorld(plan, measures, batches, whole, records);
        var result = new LocalRunner(plan, threads, progress, OnWorld).Run(cancel);
        return Of(result, measures);
    }

    /// <summary>Analyses a finished run.</summary>
    private static RunAnalysis Of(RunResult result, ImmutableArray<Measure> measures)
    {
        var plan = result.Plan;
        var records = result.Records.ToArray();
        var whole = new RunPiece(plan, result.Total, records);
        var figures = ImmutableArray.CreateBuilder<KeyFigure>();
        if (!result.UnitsAreWorlds)
        {
            var batches = Batches(plan, result.Units, records);
            foreach (var measure in measures)
            {
                figures.Add(new(measure, MeasureEstimator.OneWorld(measure, whole, batches), null));
            }

            return new(result, whole, figures.ToImmutable());
        }

        int perWorld = plan.Scenario.Run.LifetimesPerWorld;
        RunPiece[] worlds = [.. result.Units.Select((u, w) => new RunPiece(plan, u, records.AsMemory(w * perWorld, perWorld)))];
        WorldFigures[] within = [.. result.WithinWorld.Select(w => (WorldFigures)w!)];
        for (int i = 0; i < measures.Length; i++)
        {
            var measure = measures[i];
            figures.Add(new(measure, MeasureEstimator.BetweenWorlds(measure, whole, worlds), Band(measure, i, within)));
        }

        return new(result, whole, figures.ToImmutable());
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
        var values = new List<double>();
        var variances = new List<double>();
        foreach (var world in within)
        {
            if (world.Values[i] is not { } value || !double.IsFinite(value))
            {
                return new(null, null, null, null, within.Length, "some worlds cannot give the figure");
            }

            double variance = world.Variances[i];
            if (measure.BandInLogs && !(value > 0.0) && measure.Id.Contains("_counted_", StringComparison.Ordinal) && world.Values[i - 1] is { } conditional)
            {
                // A world in which none was counted is given its conditional estimate, which stands just before the count.
                (value, variance) = (conditional, world.Variances[i - 1]);
            }

            if (double.IsNaN(variance))
            {
                return new(null, null, null, null, within.Length, "the noise inside a world is not known, so it cannot be told from ignorance; 64 lifetimes a world are needed");
            }

            if (measure.BandInLogs)
            {
                if (!(value > 0.0))
                {
                    return new(null, null, null, null, within.Length, "some worlds have none, so a band in logarithms cannot be formed");
                }

                values.Add(Math.Log(value));
                variances.Add(variance / (value * value));
            }
            else
            {
                values.Add(value);
                variances.Add(variance);
            }
        }

        var band = WorldBand.Of(values.ToArray(), variances.ToArray());
        return measure.BandInLogs && band.Lower05 is { } low && band.Upper95 is { } high
            ? band with { Mean = Math.Exp(band.Mean!.Value), Lower05 = Math.Exp(low), Upper95 = Math.Exp(high) }
            : band;
    }
}
