using System.Collections.Immutable;
using CureSim.Core.Cell;
using CureSim.Core.Statistics;
using CureSim.Studies.Runs;

namespace CureSim.Reports.Runs;

/// <summary>Curves of the first cycles of a run with intervals that fit how it was made.</summary>
/// <remarks>
/// In one world cells are independent: limits of the curves themselves (log-log). Cells of one of several worlds share what is unknown, so there the
/// interval comes from the scatter of the worlds' own curves about the pooled one (t interval, cut at 0 and 1).
/// </remarks>
internal sealed class FirstCycleCurves
{
    private readonly ImmutableArray<SurvivalCurve> worldSurvivals = [];
    private readonly ImmutableArray<CumulativeIncidence> worldIncidences = [];
    private readonly double[] weights = [];

    /// <summary>Fits the curves.</summary>
    public FirstCycleCurves(RunAnalysis run)
    {
        Survival = FirstCycles.Survival(run.Whole);
        Incidence = FirstCycles.Incidence(run.Whole);
        if (run.Result.UnitsAreWorlds)
        {
            int lifetimes = run.Scenario.Run.LifetimesPerWorld;
            RunPiece[] worlds = [.. Enumerable.Range(0, run.Scenario.Run.Worlds).Select(w => run.Whole with { Records = run.Whole.Records.Slice(w * lifetimes, lifetimes) })];
            worldSurvivals = [.. worlds.Select(FirstCycles.Survival)];
            worldIncidences = [.. worlds.Select(FirstCycles.Incidence)];
            weights = [.. worldSurvivals.Select(s => (double)s.Subjects)];
        }
    }

    /// <summary>Kaplan–Meier curve of all cells together.</summary>
    public SurvivalCurve Survival { get; }

    /// <summary>Cumulative incidence of all cells together.</summary>
    public CumulativeIncidence Incidence { get; }

    /// <summary>Survival at a time, s.</summary>
    public Estimate SurvivalAt(double time) => weights.Length == 0
        ? Survival.At(time)
        : Between(Survival.At(time), worldSurvivals.Select(s => s.At(time).Value ?? 0.0));

    /// <summary>Cumulative incidence of a cause at a time, s.</summary>
    public Estimate IncidenceAt(RequalifyEvent cause, double time)
    {
        int number = (int)cause + 1;
        return weights.Length == 0
            ? Incidence.At(number, time)
            : Between(Incidence.At(number, time), worldIncidences.Select(i => i.At(number, time).Value ?? 0.0));
    }

    private Estimate Between(Estimate pooled, IEnumerable<double> worlds)
    {
        if (pooled.Value is not { } value)
        {
            return pooled;
        }

        var spread = BatchEstimate.Of([.. worlds], weights);
        return spread is { StandardError: { } error, Lower95: { } lower, Upper95: { } upper }
            ? Estimate.Bounded(value, error, Math.Max(0.0, value - ((upper - lower) / 2.0)), Math.Min(1.0, value + ((upper - lower) / 2.0)), pooled.Count)
            : Estimate.Bounded(value, null, null, null, pooled.Count);
    }
}
