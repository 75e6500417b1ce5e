using System.Collections.Immutable;
using System.Diagnostics;
using CureSim.Core.Summaries;
using CureSim.Engine.Block;
using CureSim.Engine.Plan;

namespace CureSim.Engine.Runs;

/// <summary>Runs a plan on the threads of this machine.</summary>
/// <remarks>
/// Blocks are handed out in order and their leaves are merged in order, leaf by leaf into their batch (leaf number modulo 64), whichever thread
/// made them and whenever: the bits of the result do not depend on the number of threads, nor on the number of rounds. A batch is the unit that another
/// machine could own.
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

    /// <summary>What is wanted beside the summaries.</summary>
    public Beside Beside { get; init; } = Beside.Nothing;

    /// <summary>Runs all worlds; throws <see cref="OperationCanceledException"/> when cancelled and <see cref="NotANumberException"/> when the model breaks down.</summary>
    public RunResult Run(CancellationToken cancel = default) => InRounds(null, 0, cancel);

    /// <summary>
    /// Adds rounds until enough is simulated: lifetimes when the plan has one world, else worlds of the plan's own number of lifetimes.
    /// </summary>
    /// <param name="mostLifetimes">The cap, in lifetimes of all worlds together; at least one round.</param>
    /// <param name="likely">
    /// Asked after every round with all that is simulated so far, as if nothing were to follow: how many lifetimes in all are likely to be enough. No more
    /// than there are ends the run. It must depend on the result only, so that the number of rounds does.
    /// </param>
    /// <param name="cancel">Stops it.</param>
    /// <returns>The same, bit by bit, as a run that was planned with so many lifetimes (or worlds) from the start.</returns>
    public RunResult RunRounds(int mostLifetimes, Func<RunResult, long> likely, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(likely);
        return InRounds(likely, mostLifetimes, cancel);
    }

    private RunResult InRounds(Func<RunResult, long>? likely, int mostLifetimes, CancellationToken cancel)
    {
        var clock = Stopwatch.StartNew();
        var run = plan.Scenario.Run;
        bool several = run.Worlds > 1;
        int each = several ? run.LifetimesPerWorld : 1;
        int round = several ? LeafRounds.Worlds(each) : LeafRounds.Lifetimes;
        int most = likely is null ? (several ? run.Worlds : run.LifetimesPerWorld) : mostLifetimes / each;
        if (likely is not null && most < round)
        {
            throw new ArgumentOutOfRangeException(nameof(mostLifetimes), mostLifetimes, $"One round is {(long)round * each} lifetimes.");
        }

        var state = new RunState(plan, threads, progress, onWorld, clock) { Beside = Beside };
        int planned = likely is null ? most : LeafRounds.Next(0, round, most);
        long guess = planned;
        while (true)
        {
            state.Advance(planned, Math.Clamp(guess, planned, most), cancel);
            if (likely is null)
            {
                return state.Result();
            }

            var result = state.Result();
            guess = likely(result) / each;
            if (planned >= most || guess <= planned)
            {
                return result;
            }

            planned = LeafRounds.Next(planned, round, most);
        }
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
}
