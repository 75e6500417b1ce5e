using System.Collections.Immutable;
using CureSim.Core.Cell;
using CureSim.Core.Statistics;
using CureSim.Reports.Pages;
using CureSim.Studies.Runs;

namespace CureSim.Reports.Runs;

/// <summary>A run with all that its tables, figures, summary and answer have in common, worked out once.</summary>
public sealed class RunFindings
{
    private readonly Lazy<TimeModelFinding?> timeModel;
    private readonly Lazy<TypicalBasis> basis;
    private readonly FirstCycleCurves cycles;

    private RunFindings(RunAnalysis run, RunContext context)
    {
        Run = run;
        Context = context;
        Responses = RunResponse.Of(run.Result.Plan);
        Requirement = RequirementVerdict.Of(run);
        timeModel = new(() => TimeModelFinding.Of(run));
        basis = new(() => TypicalBasis.Of(context.Inputs, run));
        cycles = new(run);
        EndCauses =
        [
            .. run.Scenario.Requalification.On
                .Select(cause => (Cause: cause, Percent: 100.0 * EndIncidence(cause)))
                .OrderByDescending(c => c.Percent).ThenBy(c => c.Cause),
        ];
    }

    /// <summary>The run.</summary>
    public RunAnalysis Run { get; }

    /// <summary>Where the scenario came from.</summary>
    public RunContext Context { get; }

    /// <summary>Whether the required capability is kept; null when none is required.</summary>
    public RequirementVerdict? Requirement { get; }

    /// <summary>How the dose behaves over time; null when it does not vary.</summary>
    public TimeModelFinding? TimeModel => timeModel.Value;

    /// <summary>How much of the conclusion rests on typical inputs.</summary>
    public TypicalBasis Basis => basis.Value;

    /// <summary>Kaplan–Meier curve of the time to requalify, s; no subjects when no cell was qualified.</summary>
    public SurvivalCurve Survival => cycles.Survival;

    /// <summary>Cumulative incidence of the causes.</summary>
    public CumulativeIncidence Incidence => cycles.Incidence;

    /// <summary>Causes with the share of qualified cells that each had to requalify by the horizon, %; largest first.</summary>
    public ImmutableArray<(RequalifyEvent Cause, double Percent)> EndCauses { get; }

    internal ImmutableArray<RunResponse> Responses { get; }

    /// <summary>True when events are named after which cells are requalified, and some cell was qualified at the start.</summary>
    public bool HasRequalification => !Run.Scenario.Requalification.On.IsEmpty && Survival.Subjects > 0;

    /// <summary>Proportion of qualified cells not yet requalified at a time (s), with its Monte-Carlo interval.</summary>
    public Estimate SurvivalAt(double time) => cycles.SurvivalAt(time);

    /// <summary>Proportion of qualified cells that a cause has made requalify by a time (s), with its Monte-Carlo interval.</summary>
    public Estimate IncidenceAt(RequalifyEvent cause, double time) => cycles.IncidenceAt(cause, time);

    /// <summary>Works out the findings of a run.</summary>
    public static RunFindings Of(RunAnalysis run, RunContext context)
    {
        ArgumentNullException.ThrowIfNull(run);
        ArgumentNullException.ThrowIfNull(context);
        return new RunFindings(run, context);
    }

    /// <summary>The words for a cause.</summary>
    public static string Words(RequalifyEvent cause) => cause switch
    {
        RequalifyEvent.OutOfToleranceFound => "out of tolerance found",
        RequalifyEvent.StateLost => "state lost",
        RequalifyEvent.LoopSaturated => "loop saturated",
        RequalifyEvent.EmitterReplaced => "emitter replaced",
        RequalifyEvent.GuideReplaced => "guide replaced",
        _ => "state left",
    };

    private double EndIncidence(RequalifyEvent cause) =>
        Survival.Subjects == 0 || Incidence.Times.Count == 0 ? 0.0 : Incidence.At((int)cause + 1, Incidence.Times[^1]).Value ?? 0.0;
}
