using CureSim.Core.Cell;
using CureSim.Core.Numerics;
using CureSim.Core.Summaries;
using CureSim.Engine.Plan;
using CureSim.Engine.Runs;
using CureSim.Engine.State;

namespace CureSim.Engine.Block;

/// <summary>
/// Consecutive lifetimes of one world, advanced in lock-step: every quantity is an array over lifetimes (a lane each).
/// Lanes never look at each other, so a lifetime comes out the same alone, in any block, on any thread.
/// </summary>
/// <remarks>
/// One step follows docs/model.md, a file for each of its parts: <c>Source</c> and <c>Path</c> (ageing, drive, path), <c>Judging</c>, <c>Inside</c> (what happens
/// inside a step), <c>Disturbances</c>, <c>Parts</c> and <c>Sums</c>, <c>Setting</c>, <c>Ends</c> (calibration, replacement, check, requalification), <c>Bins</c>.
/// </remarks>
public sealed partial class LifetimeBlock
{
    private readonly CellModel model;
    private readonly RunPlan plan;
    private readonly Scenario scenario;
    private readonly SummaryLayout layout;
    private readonly uint first;
    private readonly int count;
    private readonly int lanes;
    private readonly int sites;
    private readonly int emitters;
    private readonly int guides;
    private readonly bool shared;
    private readonly double stepSeconds;
    private readonly LifetimeTrace? trace;
    private int step;

    /// <summary>Prepares a block of <paramref name="count"/> lifetimes from <paramref name="first"/>.</summary>
    /// <param name="model">World.</param>
    /// <param name="first">First lifetime of the block within its world; a multiple of the leaf size unless a single lifetime is replayed.</param>
    /// <param name="count">Lifetimes.</param>
    /// <param name="leaves">Summaries to fill, one for each leaf of the block.</param>
    /// <param name="timeline">Integer counts over time, shared by the blocks of a worker.</param>
    /// <param name="records">Records to fill, one for each lifetime.</param>
    /// <param name="trace">Where to write down everything that happens to the block's first lifetime, or null.</param>
    public LifetimeBlock(CellModel model, uint first, int count, CellSummary[] leaves, CellSummary timeline, LifetimeRecord[] records, LifetimeTrace? trace = null)
    {
        this.model = model;
        this.first = first;
        this.count = count;
        this.leaves = leaves;
        this.timeline = timeline;
        this.records = records;
        this.trace = trace;
        plan = model.Plan;
        scenario = plan.Scenario;
        layout = plan.Layout;
        lanes = Lanes.Padded(count);
        sites = scenario.Production.SiteCount;
        emitters = model.EmitterCount;
        guides = model.GuideCount;
        shared = emitters == 1 && scenario.Source.Arrangement == EmitterArrangement.Shared;
        stepSeconds = scenario.Production.StepSeconds;
        AllocateSource();
        AllocatePath();
        AllocateChecks();
        AllocateDisturbances();
        AllocateJudging();
        AllocateParts();
        AllocateBins();
    }

    /// <summary>What is wanted beside the summaries.</summary>
    public Beside Beside { get; init; } = Beside.Nothing;

    /// <summary>Simulates all lifetimes of the block over the whole horizon.</summary>
    public void Run(CancellationToken cancel)
    {
        Commission();
        PrepareProbes();
        judgesNow = judgesBetweenChecks = ActsOn(RequalifyEvent.StateLeft);
        int steps = scenario.Production.StepCount;
        for (step = 0; step < steps; step++)
        {
            if ((step & 15) == 0)
            {
                cancel.ThrowIfCancellationRequested();
            }

            StartLots();
            BeginStep();
            AdvanceToMiddle();
            SettleDrives();
            JudgeMiddle();
            WalkInside();
            if (!DosesOnly)
            {
                NoteMiddle();
            }

            if (Recording is { } recording)
            {
                RecordStates(recording);
            }
            else
            {
                if (!DosesOnly)
                {
                    MakeParts();
                    TakeParts();
                }

                LookAtDoses();
            }

            AdvanceToEnd();
            EndOfStep();
            if (!DosesOnly)
            {
                CloseBin();
                CloseYear();
            }
        }

        if (!DosesOnly)
        {
            CloseLifetimes();
        }
    }

    private double[][] NewArrays(int entities)
    {
        var arrays = new double[entities][];
        for (int i = 0; i < entities; i++)
        {
            arrays[i] = new double[lanes];
        }

        return arrays;
    }

    private static int[][] NewCounters(int entities, int lanes)
    {
        var arrays = new int[entities][];
        for (int i = 0; i < entities; i++)
        {
            arrays[i] = new int[lanes];
        }

        return arrays;
    }

    /// <summary>Lifetime number of a lane; the padding lanes repeat addresses beyond the block and are never summarised.</summary>
    private uint Lifetime(int lane) => first + (uint)lane;

    private int EmitterOf(int site) => shared ? 0 : site;

    private (int From, int To) SitesOf(int emitter) => shared ? (0, sites) : (emitter, emitter + 1);

    private bool Traced(int lane) => trace is not null && lane == 0;
}
