using CureSim.Core.Cell;
using CureSim.Core.Summaries;
using CureSim.Engine.Block;
using CureSim.Engine.Plan;

namespace CureSim.Engine.Runs;

/// <summary>Which states of a path are kept.</summary>
public sealed class StateRecording
{
    private readonly bool[] beforeCheck;

    /// <summary>A recording for a scenario.</summary>
    /// <param name="scenario">The cell.</param>
    /// <param name="statesWanted">States of the horizon kept for a lifetime, about; at most one in each stretch of <see cref="RunPlan.ConditionalStride"/> steps.</param>
    /// <param name="checksWanted">Checks before which the state is kept, at most; spread evenly over those of the calendar. Without checks: the last step.</param>
    public StateRecording(Scenario scenario, int statesWanted, int checksWanted)
    {
        ArgumentNullException.ThrowIfNull(scenario);
        int steps = scenario.Production.StepCount, stretches = Math.Max(1, steps / RunPlan.ConditionalStride);
        Thin = Math.Max(1, (int)Math.Round((double)stretches / Math.Max(1, statesWanted)));
        Made = new(scenario.Production.SiteCount);
        BeforeCheck = new(scenario.Production.SiteCount);
        beforeCheck = new bool[steps];
        int every = scenario.Checks?.IntervalSteps ?? 0, checks = every > 0 ? steps / every : 0;
        if (checks == 0)
        {
            beforeCheck[^1] = true;
            ChecksKept = 1;
            return;
        }

        ChecksKept = Math.Min(checks, checksWanted);
        for (int c = 1; c <= ChecksKept; c++)
        {
            // The last of the checks is always among them.
            beforeCheck[(int)((((long)c * checks) / ChecksKept) * every) - 1] = true;
        }
    }

    /// <summary>One stretch of <see cref="RunPlan.ConditionalStride"/> steps in so many is kept, starting at another one for each lifetime.</summary>
    public int Thin { get; }

    /// <summary>Checks before which the state is kept.</summary>
    public int ChecksKept { get; }

    /// <summary>States in which parts are made: those of the conditional fraction of a run, or an even selection of them.</summary>
    public StateSet Made { get; }

    /// <summary>States in the middle of the last step before a check.</summary>
    public StateSet BeforeCheck { get; }

    internal bool IsBeforeCheck(int step) => beforeCheck[step];

    internal bool Keeps(int step, int lifetime) => ((step / RunPlan.ConditionalStride) + lifetime) % Thin == 0;
}

/// <summary>Follows the paths of lifetimes without making parts: ageing, loop, checks, replacements, and the states that they pass.</summary>
/// <remarks>All draws have the addresses of a run, so the states are those that the same plan's run judges.</remarks>
public static class StatePaths
{
    /// <summary>Follows all lifetimes of one world on this thread.</summary>
    /// <param name="plan">The plan.</param>
    /// <param name="model">A world of it.</param>
    /// <param name="recording">Where states go.</param>
    /// <param name="cancel">Stops it.</param>
    /// <returns>Records of the lifetimes; nothing that rests on sampled parts is in them.</returns>
    public static LifetimeRecord[] Follow(RunPlan plan, CellModel model, StateRecording recording, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(plan);
        int lifetimes = plan.Scenario.Run.LifetimesPerWorld, size = WorldRun.BlockSize(plan.LeafSize);
        var records = new LifetimeRecord[lifetimes];
        var timeline = new CellSummary(plan.Layout, withTimeline: true);
        for (int from = 0; from < lifetimes; from += size)
        {
            int count = Math.Min(size, lifetimes - from);
            var leaves = new CellSummary[(count + plan.LeafSize - 1) / plan.LeafSize];
            for (int l = 0; l < leaves.Length; l++)
            {
                leaves[l] = new CellSummary(plan.Layout, withTimeline: false);
            }

            var own = new LifetimeRecord[count];
            new LifetimeBlock(model, (uint)from, count, leaves, timeline, own) { Recording = recording }.Run(cancel);
            own.CopyTo(records.AsSpan(from));
        }

        return records;
    }
}
