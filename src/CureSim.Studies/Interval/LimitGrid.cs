using System.Collections.Immutable;
using CureSim.Core.Cell;

namespace CureSim.Studies.Interval;

/// <summary>Which limit is crossed with the interval.</summary>
public enum CrossedLimit
{
    /// <summary>The adjust limit; action and tolerance are widened where it passes them.</summary>
    Adjust,

    /// <summary>The action limit; adjust is narrowed and tolerance widened where it passes them.</summary>
    Action,
}

/// <summary>Intervals crossed with a limit, over the same lifetimes.</summary>
/// <param name="Crossed">Which limit.</param>
/// <param name="Timings">Intervals, rising.</param>
/// <param name="Limits">Limits, rising.</param>
/// <param name="Runs">Run of (interval i, limit j) at place i·Limits.Length + j.</param>
public sealed record LimitGrid(CrossedLimit Crossed, ImmutableArray<CheckTiming> Timings, ImmutableArray<double> Limits, ImmutableArray<CandidateRun> Runs)
{
    /// <summary>Most intervals of a grid: a picture of more cannot be read, and each costs a run for every limit.</summary>
    public const int MostTimings = 5;

    /// <summary>The run of an interval and a limit.</summary>
    public CandidateRun At(int timing, int limit) => Runs[(timing * Limits.Length) + limit];

    /// <summary>Limits that are crossed when the scenario names none.</summary>
    public static ImmutableArray<double> LimitsOf(CrossedLimit crossed, Scenario cell)
    {
        ArgumentNullException.ThrowIfNull(cell);
        var checks = cell.Checks!;
        var study = cell.IntervalStudy ?? IntervalStudy.Usual;
        if (crossed == CrossedLimit.Adjust)
        {
            double adjust = checks.AdjustLimit > 0.0 ? checks.AdjustLimit : checks.ActionLimit / 2.0;
            return study.AdjustLimits.IsEmpty ? [0.0, adjust / 2.0, adjust, 2.0 * adjust, 4.0 * adjust] : [.. study.AdjustLimits.Distinct()];
        }

        double action = checks.ActionLimit;
        return study.ActionLimits.IsEmpty ? [action / 2.0, action, 2.0 * action, 4.0 * action] : [.. study.ActionLimits.Distinct()];
    }

    /// <summary>Runs a grid over at most <see cref="MostTimings"/> of the plain candidates, those about the chosen one.</summary>
    public static LimitGrid Of(CrossedLimit crossed, Scenario cell, IReadOnlyList<CheckTiming> candidates, CheckTiming chosen, Func<CheckTiming, Scenario, CandidateRun> run)
    {
        ArgumentNullException.ThrowIfNull(run);
        CheckTiming[] plain = [.. candidates.Where(c => c.IsPlain)];
        ImmutableArray<CheckTiming> timings = [.. About(plain, chosen.IntervalSteps, t => t.IntervalSteps)];
        var limits = LimitsOf(crossed, cell);
        var runs = ImmutableArray.CreateBuilder<CandidateRun>();
        foreach (var timing in timings)
        {
            foreach (double limit in limits)
            {
                var scenario = CheckTimings.With(cell, timing);
                runs.Add(run(timing, scenario with { Checks = With(scenario.Checks!, crossed, limit) }));
            }
        }

        return new(crossed, timings, limits, runs.ToImmutable());
    }

    /// <summary>At most <see cref="MostTimings"/> neighbours of the item whose interval is nearest to the chosen one, in order.</summary>
    public static IEnumerable<T> About<T>(IReadOnlyList<T> rising, double chosen, Func<T, double> interval)
    {
        ArgumentNullException.ThrowIfNull(rising);
        ArgumentNullException.ThrowIfNull(interval);
        int at = Enumerable.Range(0, rising.Count).OrderBy(i => Math.Abs(Math.Log(interval(rising[i]) / chosen))).FirstOrDefault();
        return rising.Skip(Math.Clamp(at - (MostTimings / 2), 0, Math.Max(0, rising.Count - MostTimings))).Take(MostTimings);
    }

    private static Checks With(Checks checks, CrossedLimit crossed, double limit)
    {
        double action = crossed == CrossedLimit.Action ? limit : Math.Max(checks.ActionLimit, limit);
        return checks with
        {
            AdjustLimit = crossed == CrossedLimit.Adjust ? limit : Math.Min(checks.AdjustLimit, limit),
            ActionLimit = action,
            ToleranceLimit = checks.ToleranceLimit is { } tolerance ? Math.Max(tolerance, action) : null,
        };
    }
}
