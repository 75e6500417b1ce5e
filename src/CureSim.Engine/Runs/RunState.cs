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

    /// <summary>What is wanted beside the summaries.</summary>
    public Beside Beside { get; init; } = Beside.Nothing;

    /// <summary>Simulates until so many lifetimes of the one world, or so many worlds, are done.</summary>
    /// <param name="until">How many in all.</param>
    /// <param name="likely">How many there are likely to be in the end, for the progress that is reported.</param>
    /// <param name="cancel">Stops it.</param>
    public void Advance(int until, long likely, CancellationToken cancel)
    {
        if (!several)
        {
            only ??= new WorldRun(plan, plan.ModelOf(0), timelines) { Beside = Beside };
            int before = only.Lifetimes;
            Array.Resize(ref records, until);
            only.Advance(records.AsMemory(before), done => progress?.Invoke(new(before + done, likely, clock.Elapsed)), cancel);
            return;
        }

        int lifetimes = plan.Scenario.Run.LifetimesPerWorld;
        Array.Resize(ref records, checked(until * lifetimes));

        // A world of few lifetimes is one block: such worlds run side by side, a thread each; larger ones one after the other on all threads.
        int blocks = (lifetimes + WorldRun.BlockSize(plan.LeafSize) - 1) / WorldRun.BlockSize(plan.LeafSize);
        int abreast = blocks == 1 ? timelines.Length : 1;
        while (worlds.Count < until)
        {
            RunWorlds(worlds.Count, Math.Min(abreast, until - worlds.Count), likely, cancel);
        }
    }

    private void RunWorlds(int first, int number, long likely, CancellationToken cancel)
    {
        int lifetimes = plan.Scenario.Run.LifetimesPerWorld, done = 0;

        // Models register their streams with the plan, so they are made one after the other.
        CellModel[] models = [.. Enumerable.Range(first, number).Select(plan.ModelOf)];
        var runs = new WorldRun[number];
        var faults = new Exception?[number];
        // Worlds abreast are one block each, so each reports once, when it is done.
        void Report(int more) =>
            progress?.Invoke(new(((long)first * lifetimes) + more, likely * lifetimes, clock.Elapsed));
        void One(int k)
        {
            try
            {
                runs[k] = new WorldRun(plan, models[k], number == 1 ? timelines : [timelines[k]]) { Beside = Beside };
                runs[k].Advance(
                    records.AsMemory((first + k) * lifetimes, lifetimes), number == 1 ? Report : all => Report(Interlocked.Add(ref done, all)), cancel);
            }
            catch (Exception e)
            {
                faults[k] = e;
            }
        }

        var others = new Thread[number - 1];
        for (int k = 1; k < number; k++)
        {
            int own = k;
            others[k - 1] = new Thread(() => One(own)) { IsBackground = true };
            others[k - 1].Start();
        }

        One(0);
        foreach (var other in others)
        {
            other.Join();
        }

        for (int k = 0; k < number; k++)
        {
            if (faults[k] is { } fault)
            {
                System.Runtime.ExceptionServices.ExceptionDispatchInfo.Throw(fault);
            }

            var whole = new CellSummary(plan.Layout, withTimeline: false);
            MergeTree(runs[k].Batches, whole);
            worlds.Add(whole);
            answers.Add(onWorld?.Invoke(models[k], runs[k].Batches, whole, [.. records.AsSpan((first + k) * lifetimes, lifetimes)]));
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
        // Pieces are left as they are: what is merged into is a copy. A piece of no lifetimes adds nothing, so it is passed over.
        var level = pieces.Select(p => (Sum: p, IsCopy: false)).ToList();
        (CellSummary Sum, bool IsCopy) Both((CellSummary Sum, bool IsCopy) a, CellSummary b)
        {
            if (b.Lifetimes == 0)
            {
                return a;
            }

            if (!a.IsCopy)
            {
                var copy = new CellSummary(plan.Layout, withTimeline: false);
                copy.Merge(a.Sum);
                a = (copy, true);
            }

            a.Sum.Merge(b);
            return a;
        }

        while (level.Count > 1)
        {
            level = [.. Enumerable.Range(0, (level.Count + 1) / 2).Select(i => (2 * i) + 1 < level.Count ? Both(level[2 * i], level[(2 * i) + 1].Sum) : level[2 * i])];
        }

        into.Merge(level[0].Sum);
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
