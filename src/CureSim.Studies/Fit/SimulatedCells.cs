using System.Collections.Immutable;
using CureSim.Core.Cell;
using CureSim.Engine.Block;
using CureSim.Engine.Plan;
using CureSim.Studies.Interval;

namespace CureSim.Studies.Fit;

/// <summary>One simulated lifetime as a forecast uses it.</summary>
/// <param name="RequalifySeconds">First requalify event, s; +∞ when none came before the horizon; NaN when it was never qualified.</param>
/// <param name="Trace">Its replay.</param>
internal sealed record SimulatedCell(double RequalifySeconds, LifetimeTrace Trace);

/// <summary>Simulated lifetimes with all that their checks read.</summary>
internal static class SimulatedCells
{
    /// <summary>Replays lifetimes <paramref name="first"/> … of every world in turn.</summary>
    public static ImmutableArray<SimulatedCell> Run(Scenario scenario, int count, uint first, int threads, CancellationToken cancel, Action<double>? progress = null)
    {
        var plan = new RunPlan(scenario with { Run = scenario.Run with { PartsAStep = 1 } });
        int worlds = Math.Min(scenario.Run.Worlds, count), done = 0;
        CellModel[] models = [.. Enumerable.Range(0, worlds).Select(plan.ModelOf)];
        var cells = new SimulatedCell[count];
        Parallel.For(0, count, new ParallelOptions { MaxDegreeOfParallelism = Math.Max(1, threads), CancellationToken = cancel }, i =>
        {
            var trace = OneLifetime.Trace(plan, models[i % worlds], first + (uint)(i / worlds));
            trace.Bonds.Clear();
            double requalify = trace.Events.Any(e => e.What == "commissioned, never qualified") ? double.NaN
                : trace.Events.FirstOrDefault(e => e.What == "requalify event")?.Seconds ?? double.PositiveInfinity;
            cells[i] = new(requalify, trace);
            progress?.Invoke(Interlocked.Increment(ref done) / (double)count);
        });
        return [.. cells];
    }
}
