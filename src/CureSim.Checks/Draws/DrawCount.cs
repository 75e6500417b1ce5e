using CureSim.Checks.Comparing;
using CureSim.Checks.Fixtures;
using CureSim.Core.Cell;
using CureSim.Engine.Block;

namespace CureSim.Checks.Draws;

/// <summary>One quantity that alone varies, seen in a replayed lifetime: it changes when a redraw is due and at no other time, and never takes a value twice.</summary>
/// <param name="Id">Short name.</param>
/// <param name="Level">The level under test.</param>
/// <param name="What">What varies, and when it is due.</param>
/// <param name="Cell">The scenario.</param>
/// <param name="Value">What is seen of it in a step.</param>
/// <param name="Due">Whether a redraw lies between the middles of step k − 1 and step k, from the calendar or from other events of the trace.</param>
internal sealed record DrawCount(
    string Id, Level Level, string What, ScenarioBuilder Cell, Func<LifetimeTrace, int, double> Value, Func<LifetimeTrace, int, bool> Due)
{
    private const double Same = 1e-9;

    /// <summary>As an entry of the catalogue.</summary>
    public Check Entry => new(
        Id, Topics.Draws, $"Level {Level}: {What}", "docs/model.md, section 1: the event at which each level is drawn again", Provenances.ClosedForm,
        CheckKind.Deterministic, ThroughEngine: true, Evaluate);

    private CheckOutcome Evaluate()
    {
        var trace = Simulated.Trace(Cell.Build());
        int steps = trace.Steps.Count;
        double[] values = [.. Enumerable.Range(0, steps).Select(k => Value(trace, k))];
        bool Changed(int k) => Math.Abs(values[k] - values[k - 1]) > Same * Math.Abs(values[k - 1]);
        int[] due = [.. Enumerable.Range(1, steps - 1).Where(k => Due(trace, k))];
        var found = new ExactComparison(0, "counts");
        found.Add("at least five redraws to look at", due.Length >= 5);
        found.Add("steps that changed when and only when a redraw was due", steps - 1, Enumerable.Range(1, steps - 1).Count(k => Changed(k) == due.Contains(k)));
        found.Add("different values", 1 + due.Length, Different(values));
        found.Plant("every redraw a step later", steps - 1, Enumerable.Range(1, steps - 1).Count(k => Changed(k) == due.Contains(k - 1)));
        return found.Outcome();
    }

    /// <summary>How many values differ by more than rounding.</summary>
    internal static int Different(IEnumerable<double> values)
    {
        double[] sorted = [.. values.Order()];
        return sorted.Length == 0 ? 0 : 1 + Enumerable.Range(1, sorted.Length - 1).Count(i => sorted[i] - sorted[i - 1] > Same * Math.Abs(sorted[i]));
    }
}
