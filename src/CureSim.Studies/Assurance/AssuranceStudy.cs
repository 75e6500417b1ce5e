using System.Collections.Immutable;
using CureSim.Core.Cell;
using CureSim.Core.Statistics;
using CureSim.Engine.Plan;
using CureSim.Engine.Runs;

namespace CureSim.Studies.Assurance;

/// <summary>The assurance of qualification plans: what they pass and what they should not have passed, over the simulated lifetimes of a cell.</summary>
/// <param name="Scenario">The cell.</param>
/// <param name="Plans">What is found of each plan.</param>
/// <param name="Result">The run.</param>
public sealed record AssuranceStudy(Scenario Scenario, ImmutableArray<PlanAssurance> Plans, RunResult Result)
{
    /// <summary>A row is given when at least this share of lifetimes can carry it out: fewer would be a choice of cells.</summary>
    public const double LeastCarriedOut = 0.9;

    private const int DefaultMeasuredParts = 30;

    /// <summary>The plans of a scenario that states none: a success run and a two- or one-sided tolerance interval, both 95 % confidence and 95 % reliability.</summary>
    public static ImmutableArray<QualificationPlan> DefaultPlans { get; } =
    [
        new("success run", Acceptance.Attribute, (int)SamplePlan.SuccessRun(0.95, 0.95), 0, 0.95, 0.95, double.NaN, 1, 1, 1, QualificationGate.AfterCheck, PartReading.TrueValue, GoodOver.Horizon),
        new("tolerance interval", Acceptance.ToleranceInterval, DefaultMeasuredParts, 0, 0.95, 0.95, double.NaN, 1, 1, 1, QualificationGate.AfterCheck, PartReading.Radiometer, GoodOver.Horizon),
    ];

    /// <summary>Simulates the scenario's plans (or <see cref="DefaultPlans"/>), each with its parts spread in other ways too.</summary>
    /// <exception cref="OperationCanceledException">Cancelled.</exception>
    /// <exception cref="ArgumentException">The lifetimes of the plan share out strata.</exception>
    public static AssuranceStudy Run(RunPlan plan, int threads = 0, Action<RunProgress>? progress = null, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(plan);
        if (plan.IsStratified)
        {
            throw new ArgumentException("Chances of passing are counted over lifetimes, which must be independent of each other.", nameof(plan));
        }

        var scenario = plan.Scenario;
        var plans = scenario.Qualification.IsEmpty ? DefaultPlans : scenario.Qualification;
        AcceptanceRule[] rules = [.. plans.Select(p => new AcceptanceRule(p, scenario.Window))];
        ImmutableArray<(string Label, PartTaking Taking)>[] variants = [.. plans.Select(p => SpreadVariants.Of(p, scenario))];
        var takings = new PartTakings(scenario, [.. variants.SelectMany(v => v).Select(v => v.Taking).Distinct()]);
        var result = new LocalRunner(plan, threads, progress) { Beside = new() { Takings = takings } }.Run(cancel);
        var found = ImmutableArray.CreateBuilder<PlanAssurance>();
        for (int i = 0; i < rules.Length; i++)
        {
            found.Add(new PlanJudge(rules[i], result, takings).Judge(variants[i]));
        }

        return new(scenario, found.ToImmutable(), result);
    }
}
