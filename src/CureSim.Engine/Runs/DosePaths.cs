using CureSim.Core.Summaries;
using CureSim.Engine.Block;
using CureSim.Engine.Plan;

namespace CureSim.Engine.Runs;

/// <summary>Follows the paths of lifetimes and looks at doses of single bonds only: no other part is made, and no state is judged whose verdict nothing in the cell acts on.</summary>
/// <remarks>All draws have the addresses of a run, so the doses are bit by bit those of <see cref="LocalRunner"/> with the same <see cref="LocalRunner.Probes"/>.</remarks>
public static class DosePaths
{
    /// <summary>Looks at the doses of all lifetimes of a plan.</summary>
    /// <param name="plan">The plan.</param>
    /// <param name="probes">Where and when doses are looked at; they are put there.</param>
    /// <param name="threads">Threads, ≥ 1; 0 takes one for each processor. Results do not depend on it.</param>
    /// <param name="done">Called with the lifetimes done so far, from any thread; null for nobody.</param>
    /// <param name="cancel">Stops it.</param>
    public static void Look(RunPlan plan, DoseProbes probes, int threads = 0, Action<long>? done = null, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(plan);
        ArgumentNullException.ThrowIfNull(probes);
        var run = plan.Scenario.Run;
        int size = WorldRun.BlockSize(plan.LeafSize), blocks = (run.LifetimesPerWorld + size - 1) / size, at = 0;
        int workers = Math.Max(1, Math.Min(threads > 0 ? threads : Environment.ProcessorCount, run.Worlds * blocks));
        long finished = 0;
        object models = new();
        Exception? fault = null;
        CellModel? last = null;
        using var stop = CancellationTokenSource.CreateLinkedTokenSource(cancel);

        // Models register their streams with the plan, so they are made one after the other.
        CellModel ModelOf(int world)
        {
            lock (models)
            {
                return last?.Values.World == world ? last : last = plan.ModelOf(world);
            }
        }

        void Work()
        {
            try
            {
                // What a block counts beside the doses is not asked for, so one summary serves all.
                var waste = new CellSummary(plan.Layout, withTimeline: false);
                while (Interlocked.Increment(ref at) - 1 is var item && item < run.Worlds * blocks)
                {
                    int from = item % blocks * size, count = Math.Min(size, run.LifetimesPerWorld - from);
                    var leaves = new CellSummary[(count + plan.LeafSize - 1) / plan.LeafSize];
                    Array.Fill(leaves, waste);
                    new LifetimeBlock(ModelOf(item / blocks), (uint)from, count, leaves, waste, new LifetimeRecord[count]) { Beside = new() { Probes = probes }, DosesOnly = true }.Run(stop.Token);
                    done?.Invoke(Interlocked.Add(ref finished, count));
                }
            }
            catch (OperationCanceledException)
            {
                // Reported once, below.
            }
            catch (Exception e)
            {
                Interlocked.CompareExchange(ref fault, e, null);
                stop.Cancel();
            }
        }

        Thread[] others = [.. Enumerable.Range(1, workers - 1).Select(_ => new Thread(Work) { IsBackground = true })];
        foreach (var other in others)
        {
            other.Start();
        }

        Work();
        foreach (var other in others)
        {
            other.Join();
        }

        if (fault is not null)
        {
            System.Runtime.ExceptionServices.ExceptionDispatchInfo.Throw(fault);
        }

        cancel.ThrowIfCancellationRequested();
    }
}
