using System.Collections.Immutable;
using System.Diagnostics;
using CureSim.Core.Summaries;
using CureSim.Engine.Block;
using CureSim.Engine.Plan;

namespace CureSim.Engine.Runs;

/// <summary>Runs a plan on the threads of this machine.</summary>
/// <remarks>
/// Blocks are handed out in order and their leaves are merged in order, leaf by leaf into their batch (leaf number modulo 64), whichever thread
/// made them and whenever: the bits of the result do not depend on the number of threads. A batch is the unit that another machine could own.
/// </remarks>
public sealed class LocalRunner
{
    /// <summary>Lifetimes in a block, unless leaves are larger.</summary>
    public const int BlockLifetimes = 128;

    private readonly RunPlan plan;
    private readonly int threads;
    private readonly Action<RunProgress>? progress;
    private readonly Func<CellModel, ImmutableArray<CellSummary>, CellSummary, ImmutableArray<LifetimeRecord>, object?>? onWorld;

    /// <summary>Prepares a run.</summary>
    /// <param name="plan">What to run.</param>
    /// <param name="threads">Threads, ≥ 1; 0 takes one for each processor.</param>
    /// <param name="progress">Called now and then, from any thread.</param>
    /// <param name="onWorld">With several worlds: called for each world when it is done, with its batches, total and records.</param>
    public LocalRunner(
        RunPlan plan,
        int threads = 0,
        Action<RunProgress>? progress = null,
        Func<CellModel, ImmutableArray<CellSummary>, CellSummary, ImmutableArray<LifetimeRecord>, object?>? onWorld = null)
    {
        this.plan = plan;
        this.threads = threads > 0 ? threads : Environment.ProcessorCount;
        this.progress = progress;
        this.onWorld = onWorld;
    }

    /// <summary>Parts that qualifications take beside the sampled ones; null: none. They change no bit of the rest.</summary>
    public PartTakings? Takings { get; init; }

    /// <summary>Runs all worlds; throws <see cref="OperationCanceledException"/> when cancelled and <see cref="NotANumberException"/> when the model breaks down.</summary>
    public RunResult Run(CancellationToken cancel = default)
    {
        var clock = Stopwatch.StartNew();
        var run = plan.Scenario.Run;
        var total = new CellSummary(plan.Layout, withTimeline: true);
        var timelines = new CellSummary[threads];
        for (int t = 0; t < threads; t++)
        {
            timelines[t] = new CellSummary(plan.Layout, withTimeline: true);
        }

        var records = new LifetimeRecord[(long)run.Worlds * run.LifetimesPerWorld];
        var units = ImmutableArray.CreateBuilder<CellSummary>();
        var answers = ImmutableArray.CreateBuilder<object?>();
        for (int world = 0; world < run.Worlds; world++)
        {
            var model = plan.ModelOf(world);
            var batches = RunWorld(model, records.AsMemory(world * run.LifetimesPerWorld, run.LifetimesPerWorld), timelines, world, clock, cancel);
            if (run.Worlds == 1)
            {
                units.AddRange(batches);
                continue;
            }

            var whole = new CellSummary(plan.Layout, withTimeline: false);
            MergeTree(batches, whole);
            units.Add(whole);
            answers.Add(onWorld?.Invoke(model, batches, whole, [.. records.AsSpan(world * run.LifetimesPerWorld, run.LifetimesPerWorld)]));
        }

        MergeTree([.. units], total);
        foreach (var timeline in timelines)
        {
            MergeTimeline(timeline, total);
        }

        return new(plan, total, units.ToImmutable(), run.Worlds > 1, answers.ToImmutable(), [.. records], clock.Elapsed, threads);
    }

    /// <summary>Replays one lifetime alone and writes down everything that happens to it.</summary>
    public static LifetimeTrace Trace(RunPlan plan, int world, uint lifetime)
    {
        var trace = new LifetimeTrace();
        var leaf = new CellSummary(plan.Layout, withTimeline: false);
        var block = new LifetimeBlock(plan.ModelOf(world), lifetime, 1, [leaf], new CellSummary(plan.Layout, withTimeline: true), new LifetimeRecord[1], trace);
        block.Run(CancellationToken.None);
        return trace;
    }

    private ImmutableArray<CellSummary> RunWorld(
        CellModel model, Memory<LifetimeRecord> records, CellSummary[] timelines, int world, Stopwatch clock, CancellationToken cancel)
    {
        int lifetimes = records.Length, leafSize = plan.LeafSize;
        int blockSize = Math.Max(leafSize, BlockLifetimes / leafSize * leafSize);
        int blocks = (lifetimes + blockSize - 1) / blockSize;
        var batches = new CellSummary[Leaves.Batches];
        for (int b = 0; b < batches.Length; b++)
        {
            batches[b] = new CellSummary(plan.Layout, withTimeline: false);
        }

        var waiting = new SortedDictionary<int, CellSummary[]>();
        int next = 0, merged = 0, leafNumber = 0;
        long done = 0;
        object gate = new();
        Exception? fault = null;
        using var stop = CancellationTokenSource.CreateLinkedTokenSource(cancel);

        void Work(int thread)
        {
            try
            {
                while (!stop.IsCancellationRequested)
                {
                    int block = Interlocked.Increment(ref next) - 1;
                    if (block >= blocks)
                    {
                        return;
                    }

                    int from = block * blockSize, size = Math.Min(blockSize, lifetimes - from);
                    var leaves = new CellSummary[(size + leafSize - 1) / leafSize];
                    for (int l = 0; l < leaves.Length; l++)
                    {
                        leaves[l] = new CellSummary(plan.Layout, withTimeline: false);
                    }

                    var own = new LifetimeRecord[size];
                    new LifetimeBlock(model, (uint)from, size, leaves, timelines[thread], own) { Takings = Takings }.Run(stop.Token);
                    own.CopyTo(records.Slice(from, size));
                    lock (gate)
                    {
                        // Leaves are merged in their order: a block that is done early waits for the ones before it.
                        waiting.Add(block, leaves);
                        while (waiting.Remove(merged, out var ready))
                        {
                            merged++;
                            foreach (var leaf in ready)
                            {
                                batches[leafNumber++ % Leaves.Batches].Merge(leaf);
                            }
                        }

                        done += size;
                    }

                    progress?.Invoke(new(((long)world * lifetimes) + Interlocked.Read(ref done), (long)plan.Scenario.Run.Worlds * lifetimes, clock.Elapsed));
                }
            }
            catch (OperationCanceledException)
            {
                // Reported once, below.
            }
            catch (Exception e)
            {
                lock (gate)
                {
                    fault ??= e;
                }

                stop.Cancel();
            }
        }

        int workers = Math.Min(threads, blocks);
        var others = new Thread[workers - 1];
        for (int t = 1; t < workers; t++)
        {
            int thread = t;
            others[t - 1] = new Thread(() => Work(thread)) { IsBackground = true };
            others[t - 1].Start();
        }

        Work(0);
        foreach (var other in others)
        {
            other.Join();
        }

        if (fault is not null)
        {
            throw fault is NotANumberException ? fault : new InvalidOperationException(fault.Message, fault);
        }

        cancel.ThrowIfCancellationRequested();
        return [.. batches];
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
