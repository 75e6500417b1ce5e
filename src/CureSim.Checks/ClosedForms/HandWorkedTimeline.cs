using CureSim.Checks.Comparing;
using CureSim.Core.Cell;
using CureSim.Engine.Block;

namespace CureSim.Checks.ClosedForms;

/// <summary>All spreads zero: two plants whose every step and reading is worked by hand, over two check intervals with a new guide and a new emitter.</summary>
internal static class HandWorkedTimeline
{
    private const string Reason = "both sides are a few dozen roundings of 1.1·10⁻¹⁶";

    public static IEnumerable<Check> All()
    {
        yield return new(
            "CF-TIME-1", Topics.ClosedForm, "All spreads zero: head lit during exposures, downtimes, no loop: t, h, N, u, indication, E of six steps and every event",
            "worked by hand in the check", Provenances.ClosedForm, CheckKind.Deterministic, ThroughEngine: true, HeadWithDowntimes.Compare);
        yield return new(
            "CF-TIME-2", Topics.ClosedForm, "All spreads zero: lamp with two legs under a drifting loop on a grid of drive: t, h, u, indication, E of four steps and every event",
            "worked by hand in the check", Provenances.ClosedForm, CheckKind.Deterministic, ThroughEngine: true, LampUnderALoop.Compare);
    }

    internal static ExactComparison Start() => new(1e-12, Reason);

    /// <summary>Compares the events of one kind: time in steps and value, site by site.</summary>
    internal static void Rows(ExactComparison found, LifetimeTrace trace, double step, string what, params (double Steps, double? Value)[] expected)
    {
        var rows = trace.Events.Where(e => e.What == what).ToArray();
        found.Add($"number of '{what}'", expected.Length, rows.Length);
        foreach (var (row, (steps, value)) in rows.Zip(expected))
        {
            found.Add($"time of '{what}'", steps * step, row.Seconds);
            if (value is { } v)
            {
                found.Add(FormattableString.Invariant($"'{what}' at {steps} steps"), v, row.Value ?? double.NaN);
            }
        }
    }
}
