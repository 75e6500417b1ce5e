using System.Collections.Immutable;
using CureSim.Core.Cell;
using CureSim.Core.Statistics;
using CureSim.Engine.Plan;
using CureSim.Engine.Runs;
using CureSim.Studies.Compare;
using CureSim.Studies.Interval;
using CureSim.Studies.Runs;

namespace CureSim.Studies.Drivers;

/// <summary>One input changed, and what that does.</summary>
/// <param name="Variant">What is changed.</param>
/// <param name="Values">The figures with the change, in the order of <see cref="WhatIf.Measures"/>.</param>
/// <param name="Changes">Their changes, paired lifetime by lifetime.</param>
public sealed record WhatIfRow(Variant Variant, ImmutableArray<Estimate> Values, ImmutableArray<Estimate> Changes)
{
    /// <summary>True when the interval of a change leaves 0 out: a change is seen.</summary>
    public static bool IsSeen(Estimate change)
    {
        ArgumentNullException.ThrowIfNull(change);
        return change is { Lower95: > 0.0 } or { Upper95: < 0.0 };
    }
}

/// <summary>The what-if table: each spread halved and each mean moved by its own standard deviation, one at a time, over the same lifetimes.</summary>
/// <remarks>
/// Rows are sorted by the change of the leading figure: Ppk of the limited response whose Ppk is lowest. Ppk and not Cpk, because halving what differs between lifetimes or moves with
/// time cannot show in a short-term index; Cpk stands beside it.
/// </remarks>
public sealed class WhatIf
{
    /// <summary>Most lifetimes of a variant, all worlds together.</summary>
    public const int MostLifetimes = 512;

    /// <summary>Most worlds of a variant: each world's judge of states is made anew for every change.</summary>
    public const int MostWorlds = 8;

    /// <summary>Lifetime-steps that the table may take before its lifetimes are cut down.</summary>
    private const double UsualSteps = 4e7;

    private const int LeastLifetimes = 128;

    // Judging a state of a cell whose degree of cure is limited takes an integral over cure rates for every bond: about so many times the work of another step.
    private const double CureWork = 12.0;

    private WhatIf(Scenario scenario, Response response, ImmutableArray<Measure> measures, ImmutableArray<Estimate> basis, ImmutableArray<WhatIfRow> rows, Estimate? lead)
    {
        Scenario = scenario;
        Response = response;
        Measures = measures;
        Base = basis;
        Rows = rows;
        Lead = lead;
    }

    /// <summary>The scenario as it was run for the table.</summary>
    public Scenario Scenario { get; }

    /// <summary>The response that the indices are of.</summary>
    public Response Response { get; }

    /// <summary>Figures: Ppk, Cpk, ppm, time to requalify, cost, as far as the scenario has them.</summary>
    public ImmutableArray<Measure> Measures { get; }

    /// <summary>Figures of the scenario itself.</summary>
    public ImmutableArray<Estimate> Base { get; }

    /// <summary>Rows, largest gain first; what cannot be told comes last.</summary>
    public ImmutableArray<WhatIfRow> Rows { get; }

    /// <summary>What the best halved spread gains more than the next one, over the same lifetimes; null when there are no two. The two are told apart when its interval leaves 0 out.</summary>
    public Estimate? Lead { get; }

    /// <summary>Rows of halved spreads.</summary>
    public IEnumerable<WhatIfRow> Halved => Rows.Where(r => r.Variant.Action == VariantAction.Halved);

    /// <summary>Lifetimes that the table takes.</summary>
    public static long Lifetimes(Scenario scenario)
    {
        var small = Small(scenario, out int variants);
        return (long)small.Run.Worlds * small.Run.LifetimesPerWorld * (1 + variants);
    }

    /// <summary>Runs the table.</summary>
    public static WhatIf Run(Scenario scenario, int threads, Action<long>? progress = null, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(scenario);
        var cell = Small(scenario, out _);
        long each = (long)cell.Run.Worlds * cell.Run.LifetimesPerWorld, done = 0;
        var plan = new RunPlan(cell);
        RunResult Simulate(RunPlan p)
        {
            var result = new LocalRunner(p, threads, x => progress?.Invoke(done + x.LifetimesDone)).Run(cancel);
            done += each;
            return result;
        }

        var basis = Simulate(plan);
        var response = Worst(plan, basis);
        var measures = MeasuresOf(plan, response);
        var values = RunAnalysis.Estimates(basis, measures);
        var rows = new List<WhatIfRow>();
        List<(WhatIfRow Row, RunResult Result, Measure Measure)> best = [];
        foreach (var variant in Variant.Of(cell))
        {
            var own = new RunPlan(variant.Scenario, plan);
            var result = Simulate(own);
            var ownMeasures = MeasuresOf(own, response);
            var changed = RunAnalysis.Estimates(result, ownMeasures);
            var units = new PairedUnits(basis, result);
            rows.Add(new(variant, changed, [.. measures.Select((m, i) => Change(m, ownMeasures[i], values[i], changed[i], units))]));
            if (variant.Action == VariantAction.Halved && rows[^1].Changes[0].Value is not null)
            {
                // Only the two best are kept: a result of every change would fill memory.
                best.Add((rows[^1], result, ownMeasures[0]));
                best = [.. best.OrderByDescending(b => b.Row.Changes[0].Value).Take(2)];
            }
        }

        Estimate? lead = best is [var first, var next] ? Change(next.Measure, first.Measure, next.Row.Values[0], first.Row.Values[0], new PairedUnits(next.Result, first.Result)) : null;

        return new(cell, response, measures, values, [.. rows.OrderByDescending(r => r.Changes[0].Value ?? double.NegativeInfinity)], lead);
    }

    private static Estimate Change(Measure a, Measure b, Estimate before, Estimate after, PairedUnits units) =>
        (before.Withheld ?? after.Withheld) is { } reason ? Estimate.Withhold(reason) : PairedEstimator.Difference(a, b, after.Get() - before.Get(), units);

    private static Response Worst(RunPlan plan, RunResult result)
    {
        var whole = new RunPiece(plan, result.Total, result.Records.AsMemory());
        var all = RunMeasures.For(plan);
        return plan.Scenario.Window.Limits.Select(l => l.Response)
            .MinBy(r => all.First(m => m.Id == RunMeasures.NameOf(r) + "_ppk").Value(whole) ?? double.PositiveInfinity);
    }

    private static ImmutableArray<Measure> MeasuresOf(RunPlan plan, Response response)
    {
        var all = RunMeasures.For(plan);
        string name = RunMeasures.NameOf(response);
        string[] ids = [name + "_ppk", name + "_cpk", "parts_nonconforming_conditional_ppm", "requalify_restricted_mean_hours"];
        return
        [
            .. ids.Select(id => all.FirstOrDefault(m => m.Id == id)).OfType<Measure>(),
            .. IntervalMeasures.For(plan.Scenario).Where(m => m.Id == IntervalMeasures.Cost),
        ];
    }

    // Two parts a step, so that there is a short-term spread; the lifetimes cut to what the table may cost.
    private static Scenario Small(Scenario scenario, out int variants)
    {
        var run = scenario.Run with { Worlds = Math.Min(MostWorlds, scenario.Run.Worlds) };
        variants = Variant.Of(scenario).Length;
        double work = scenario.Window.For(Response.DegreeOfCure) is null ? 1.0 : CureWork;
        double allowed = UsualSteps / (work * scenario.Production.StepCount * (variants + 1.0));
        int most = (int)Math.Clamp(allowed, LeastLifetimes, MostLifetimes), asked = run.LifetimesPerWorld;
        int each = run.Worlds > 1 ? Math.Max(4, most / run.Worlds) : most;

        // Whole batches of equal size, so that differences between batches weigh alike.
        each = Math.Min(asked, run.Worlds > 1 || each < 64 ? each : each / 64 * 64);
        return scenario with { Run = run with { LifetimesPerWorld = each, PartsAStep = Math.Clamp(run.PartsAStep, 2, 4), Precision = null } };
    }
}
