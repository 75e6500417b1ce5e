using System.Collections.Immutable;
using CureSim.Core.Summaries;
using CureSim.Engine.Plan;

namespace CureSim.Engine.Runs;

/// <summary>What a run leaves in memory.</summary>
/// <param name="Plan">The plan.</param>
/// <param name="Total">Everything together, with the timeline.</param>
/// <param name="Units">Pieces for standard errors: 64 batches of one world, or the worlds themselves.</param>
/// <param name="UnitsAreWorlds">True when the units are worlds.</param>
/// <param name="WithinWorld">With several worlds: the batches of each world are handed to a function as the world is done; its answers, by world.</param>
/// <param name="Records">One for each lifetime, in order of world and lifetime.</param>
/// <param name="Elapsed">Time taken.</param>
/// <param name="Threads">Threads used.</param>
public sealed record RunResult(
    RunPlan Plan,
    CellSummary Total,
    ImmutableArray<CellSummary> Units,
    bool UnitsAreWorlds,
    ImmutableArray<object?> WithinWorld,
    ImmutableArray<LifetimeRecord> Records,
    TimeSpan Elapsed,
    int Threads)
{
    /// <summary>Bond exposures simulated.</summary>
    public double BondExposures =>
        (double)Records.Length * Plan.Scenario.Production.StepCount * Plan.Scenario.Run.PartsAStep * Plan.Scenario.Production.SiteCount;
}

/// <summary>How far a run has come.</summary>
/// <param name="LifetimesDone">Lifetimes simulated.</param>
/// <param name="LifetimesPlanned">Lifetimes planned.</param>
/// <param name="Elapsed">Time since the start.</param>
public sealed record RunProgress(long LifetimesDone, long LifetimesPlanned, TimeSpan Elapsed);
