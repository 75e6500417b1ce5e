using CureSim.Core.Cell;
using CureSim.Core.Statistics;
using CureSim.Core.Summaries;
using CureSim.Engine.Block;
using CureSim.Engine.Plan;
using CureSim.Engine.Runs;
using CureSim.Studies.Runs;

namespace CureSim.Checks.Comparing;

/// <summary>Runs a scenario as any other run is made: plan, runner, analysis. One thread, so that checks may themselves run side by side.</summary>
internal static class Simulated
{
    /// <summary>A run with all its figures.</summary>
    public static RunAnalysis Analysis(Scenario scenario) => RunAnalysis.Run(new RunPlan(scenario), threads: 1);

    /// <summary>A run without its figures.</summary>
    public static RunResult Run(Scenario scenario) => new LocalRunner(new RunPlan(scenario), threads: 1).Run();

    /// <summary>One lifetime with everything that happened in it.</summary>
    public static LifetimeTrace Trace(Scenario scenario, int world = 0, uint lifetime = 0) => LocalRunner.Trace(new RunPlan(scenario), world, lifetime);

    /// <summary>The first lifetimes of the first world.</summary>
    public static IEnumerable<LifetimeTrace> Traces(Scenario scenario, int lifetimes)
    {
        var plan = new RunPlan(scenario);
        return Enumerable.Range(0, lifetimes).Select(i => LocalRunner.Trace(plan, 0, (uint)i));
    }

    /// <summary>A figure of the analysis by its name.</summary>
    public static Estimate Figure(this RunAnalysis analysis, string id) =>
        (analysis.Find(id) ?? throw new InvalidOperationException($"The run gives no figure {id}.")).Estimate;

    /// <summary>A mean over everything that a run summed, with its error from the scatter of the 64 batches.</summary>
    public static SampledFigure BatchMean(
        this RunResult run, string name, double expected, Func<CellSummary, double> value, double? planted = null, double allowance = 0.0)
    {
        CellSummary[] units = [.. run.Units.Where(u => u.Lifetimes > 0)];
        var scatter = BatchEstimate.Of([.. units.Select(value)], [.. units.Select(u => (double)u.Lifetimes)]);
        return new(name, expected, value(run.Total), scatter.StandardError ?? double.NaN, planted, allowance);
    }
}
