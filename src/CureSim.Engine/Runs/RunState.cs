using System.Collections.Immutable;
using System.Diagnostics;
using CureSim.Core.Summaries;
using CureSim.Engine.Plan;

namespace CureSim.Engine.Runs;

/// <summary>A run as far as it has come: it can be taken further, and its result so far can be asked for at any time.</summary>
internal sealed class RunState
{
    private readonly RunPlan plan;
    private readonly Action<RunProgress>? progress;
    private readonly Func<CellModel, ImmutableArray<CellSummary>, CellSummary, ImmutableArray<LifetimeRecord>, object?>? onWorld;
    private readonly Stopwatch clock;
    private readonly CellSummary[] timelines;
    private readonly bool several;
    private readonly List<CellSummary> worlds = [];
    private readonly List<object?> answers = [];
    private WorldRun? only;
    private LifetimeRecord[] records = [];

    public RunState(
        RunPlan plan,
        int threads,
        Action<RunProgress>? progress,
        Func<CellModel, ImmutableArray<CellSummary>, CellSummary, ImmutableArray<LifetimeRecord>, object?>? onWorld,
        Stopwatch clock)
    {
        this.plan = plan;
        this.progress = progress;
        this.onWorld = onWorld;
        this.clock = clock;
        several = plan.Scenario.Run.Worlds > 1;
        timelines = new CellSummary[threads];
        for (int t = 0; t < threads; t++)
        {
            timelines[t] = new CellSummary(plan.Layout, withTimeline: true);
        }
    }

    /// <summary>Parts that qualifications take beside the sampled ones; null: none.</summary>
    public PartTakings? Takings { get; init; }

    /// <summary>Simulates until so many lifetimes of the one world, or so many worlds, are done.</summary>
    /// <param name="until">How many in all.</param>
    /// <param name="likely">How many there are likely to be in the end, for the progress that is reported.</param>
    /// <param name="cancel">Stops it.</param>
    public void Advance(int until, long likely, CancellationToken cancel)
    {
        if (!several)
        {
            only ??= new WorldRun(plan, plan.ModelOf(0), timelines) { Takings = Takings };
            int before = only.Lifetimes;
            Array.Resize(ref records, until);
            only.Advance(records.AsMemory(before), done => progress?.Invoke(new(before + done, likely, clock.Elapsed)), cancel);
            return;
        }

        int lifetimes = plan.Scenario.Run.LifetimesPerWorld;
        Array.Resize(ref records, checked(until * lifetimes));
        for (int world = worlds.Count; world < until; world++)
        {
            var model = plan.ModelOf(world);
            var run = new WorldRun(plan, model, timelines) { Takings = Takings };
            int from = world * lifetimes;
            run.Advance(records.AsMemory(from, lifetimes), done => progress?.Invoke(new((long)from + done, likely * lifetimes, clock.Elapsed)), cancel);
            var whole = new CellSummary(plan.Layout, withTimeline: false);
            MergeTree(run.Batches, whole);
            worlds.Add(whole);
            answers.Add(onWorld?.Invoke(model, run.Batches, whole, [.. records.AsSpan(from, lifetimes)]));
        }
    }

    /// <summary>What the run would leave if it ended here.</summary>
    public RunResult Result()
    {
        ImmutableArray<CellSummary> units = several ? [.. worlds] : only!.Batches;
        var total = new CellSummary(plan.Layout, withTimeline: true);
        MergeTree(units, total);
        foreach (var timeline in timelines)
        {
            MergeTimeline(timeline, total);
        }

        var sized = several ? plan.WithSize(worlds.Count, plan.Scenario.Run.LifetimesPerWorld) : plan.WithSize(1, only!.Lifetimes);
        return new(sized, total, units, several, [.. answers], [.. records], clock.Elapsed, timelines.Length);
    }

    /// <summary>Merges pieces in a fixed binary tree.</summary>
    private void MergeTree(ImmutableArray<CellSummary> pieces, CellSummary into)
    {
        var level = new List<CellSummary>();
        foreach (var piece in pieces)
        {
            var copy = new CellSummary(plan.Layout, withTimeline: false);
            copy.Merge(piece);
            level.Add(copy);
        }

        while (level.Count > 1)
        {
            var up = new List<CellSummary>();
            for (int i = 0; i < level.Count; i += 2)
            {
                if (i + 1 < level.Count)
                {
                    level[i].Merge(level[i + 1]);
                }

                up.Add(level[i]);
            }

            level = up;
        }

        into.Merge(level[0]);
    }

    private static void MergeTimeline(CellSummary from, CellSummary into)
    {
        for (int b = 0; b < into.Layout.BinCount; b++)
        {
            for (int i = 0; i < into.IndexByBin![b].Length; i++)
            {
                into.IndexByBin[b][i] += from.IndexByBin![b][i];
            }

            for (int r = 0; r < into.Layout.Responses.Length; r++)
            {
                for (int i = 0; i < into.Fans![r, b].Length; i++)
                {
                    into.Fans[r, b][i] += from.Fans![r, b][i];
                }
            }
        }
    }
}
