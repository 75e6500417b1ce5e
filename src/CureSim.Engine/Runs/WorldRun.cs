using System.Collections.Immutable;
using CureSim.Core.Summaries;
using CureSim.Engine.Block;
using CureSim.Engine.Plan;

namespace CureSim.Engine.Runs;

/// <summary>The lifetimes of one world, simulated stretch by stretch: a later stretch goes on where the one before it ended.</summary>
/// <remarks>
/// Draws are addressed by the number of the lifetime and leaves keep their numbers, so lifetimes simulated in several stretches leave the same bits as
/// the same lifetimes simulated at once. Every stretch but the last must be whole blocks.
/// </remarks>
internal sealed class WorldRun
{
    private readonly CellModel model;
    private readonly RunPlan plan;
    private readonly CellSummary[] timelines;
    private readonly CellSummary?[] batches = new CellSummary?[Leaves.Batches];
    private CellSummary? nothing;
    private int leafNumber;

    /// <summary>Prepares a world.</summary>
    /// <param name="plan">The run.</param>
    /// <param name="model">The world.</param>
    /// <param name="timelines">One for each thread, shared by all worlds.</param>
    public WorldRun(RunPlan plan, CellModel model, CellSummary[] timelines)
    {
        this.plan = plan;
        this.model = model;
        this.timelines = timelines;
    }

    /// <summary>What is wanted beside the summaries.</summary>
    public Beside Beside { get; init; } = Beside.Nothing;

    /// <summary>Lifetimes simulated so far.</summary>
    public int Lifetimes { get; private set; }

    /// <summary>The batches as they stand; later stretches merge into the same objects. Batches without a leaf are one and the same empty summary.</summary>
    public ImmutableArray<CellSummary> Batches => [.. batches.Select(b => b ?? (nothing ??= new CellSummary(plan.Layout, withTimeline: false)))];

    /// <summary>Lifetimes in a block.</summary>
    public static int BlockSize(int leafSize) => Math.Max(leafSize, LocalRunner.BlockLifetimes / leafSize * leafSize);

    /// <summary>Simulates the next lifetimes.</summary>
    /// <param name="records">Where their records go; its length is how many.</param>
    /// <param name="report">Called with the lifetimes of this stretch done so far, from any thread; null for nobody.</param>
    /// <param name="cancel">Stops it.</param>
    public void Advance(Memory<LifetimeRecord> records, Action<int>? report, CancellationToken cancel)
    {
        int start = Lifetimes, lifetimes = records.Length, leafSize = plan.LeafSize;
        int blockSize = BlockSize(leafSize);
        if (start % blockSize != 0)
        {
            throw new InvalidOperationException($"{start} lifetimes are no whole number of blocks of {blockSize}, so the world cannot go on");
        }

        int blocks = (lifetimes + blockSize - 1) / blockSize;
        var waiting = new SortedDictionary<int, CellSummary[]>();
        int next = 0, merged = 0, done = 0;
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
                    new LifetimeBlock(model, (uint)(start + from), size, leaves, timelines[thread], own) { Beside = Beside }.Run(stop.Token);
                    own.CopyTo(records.Slice(from, size));
                    int soFar;
                    lock (gate)
                    {
                        // Leaves are merged in their order: a block that is done early waits for the ones before it.
                        waiting.Add(block, leaves);
                        while (waiting.Remove(merged, out var ready))
                        {
                            merged++;
                            foreach (var leaf in ready)
                            {
                                // The first leaf becomes the batch: a summary is large, and small worlds are many.
                                ref var batch = ref batches[leafNumber++ % Leaves.Batches];
                                batch?.Merge(leaf);
                                batch ??= leaf;
                            }
                        }

                        soFar = done += size;
                    }

                    report?.Invoke(soFar);
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

        int workers = Math.Max(1, Math.Min(timelines.Length, blocks));
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
        Lifetimes += lifetimes;
    }
}
