using System.Collections.Immutable;
using CureSim.Core.Cell;

namespace CureSim.Studies.Interval;

/// <summary>The timings of checks that are compared, and the scenario with one of them.</summary>
public static class CheckTimings
{
    /// <summary>Name of the timing that the scenario itself has, where the ladder does not hold it.</summary>
    public const string Present = "as written";

    /// <summary>Candidates of a scenario in the order of their intervals: its own list, else the calendar ladder and its present timing.</summary>
    /// <exception cref="ArgumentException">The scenario has no checks.</exception>
    public static ImmutableArray<CheckTiming> For(Scenario cell)
    {
        ArgumentNullException.ThrowIfNull(cell);
        var checks = cell.Checks ?? throw new ArgumentException("A scenario without checks has no interval.", nameof(cell));
        IEnumerable<CheckTiming> timings = cell.IntervalStudy?.Candidates is { IsEmpty: false } own ? own : Ladder(cell, checks);
        return [.. timings.OrderBy(t => t.IntervalSteps).ThenBy(t => !t.IsPlain)];
    }

    /// <summary>The scenario with a timing. One part a step is sampled: fractions are averaged over states, and a part's draws do not depend on how many are sampled.</summary>
    public static Scenario With(Scenario cell, CheckTiming timing)
    {
        ArgumentNullException.ThrowIfNull(cell);
        ArgumentNullException.ThrowIfNull(timing);
        return cell with
        {
            Checks = cell.Checks! with
            {
                IntervalSteps = timing.IntervalSteps, AfterReplacement = timing.AfterReplacement, WhenDriveAbove = timing.WhenDriveAbove, WhenAlarm = timing.WhenAlarm,
            },
            Run = cell.Run with { PartsAStep = 1 },
        };
    }

    /// <summary>The timing that a scenario has.</summary>
    public static CheckTiming Of(Checks checks, string name) => new(name, checks.IntervalSteps, checks.AfterReplacement, checks.WhenDriveAbove, checks.WhenAlarm);

    private static IEnumerable<CheckTiming> Ladder(Scenario cell, Checks checks)
    {
        var p = cell.Production;
        (string Name, double Seconds)[] rungs =
        [
            ("1 shift", p.ShiftSeconds), ("1 day", p.DaySeconds), ("1 week", p.WeekSeconds), ("2 weeks", 2.0 * p.WeekSeconds), ("1 month", p.YearSeconds / 12.0),
            ("1 quarter", p.YearSeconds / 4.0), ("half a year", p.YearSeconds / 2.0), ("1 year", p.YearSeconds),
        ];
        var ladder = new List<CheckTiming>();
        int least = checks.LateProbability > 0.0 ? checks.LateSteps + 1 : 1;
        foreach (var (name, seconds) in rungs)
        {
            // Calendar words are rounded to whole steps as everywhere; one that is shorter than a step is no candidate.
            double exact = seconds / p.StepSeconds;
            int steps = (int)Math.Round(exact);
            if (exact > 1.0 - 1e-9 && steps >= least && steps <= p.StepCount && ladder.All(t => t.IntervalSteps != steps))
            {
                ladder.Add(new(name, steps, null, null, false));
            }
        }

        if (checks.AreUneven || ladder.All(t => t.IntervalSteps != checks.IntervalSteps))
        {
            ladder.Add(Of(checks, Present));
        }

        return ladder;
    }
}
