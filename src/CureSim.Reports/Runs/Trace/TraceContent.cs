using CureSim.Core.Cell;
using CureSim.Engine.Block;
using CureSim.Reports.Pages;
using CureSim.Reports.Text;

namespace CureSim.Reports.Runs;

/// <summary>What the report of one replayed lifetime says.</summary>
public static class TraceContent
{
    /// <summary>The content.</summary>
    /// <param name="scenario">The cell.</param>
    /// <param name="trace">The lifetime.</param>
    /// <param name="context">The scenario's texts.</param>
    /// <param name="world">Number of its world.</param>
    /// <param name="lifetime">Its number in the world.</param>
    public static ReportContent Of(Scenario scenario, LifetimeTrace trace, RunContext context, int world, uint lifetime)
    {
        ArgumentNullException.ThrowIfNull(scenario);
        ArgumentNullException.ThrowIfNull(trace);
        ArgumentNullException.ThrowIfNull(context);
        var lines = TraceTimeline.Summary(scenario, trace);
        var events = PageTable.Of(TraceTimeline.Events(trace, PageTable.MostRows), isFile: false) with { File = "tables/events.csv", Total = trace.Events.Count };
        var counts = PageTable.OfTexts(["Event", "Times"], trace.Events.GroupBy(e => e.What).OrderByDescending(g => g.Count()).ThenBy(g => g.Key, StringComparer.Ordinal).Select(g => (string[])[g.Key, Format.Count(g.Count())]));
        return new()
        {
            Command = "trace",
            Title = $"{scenario.Name}: lifetime {Format.Count(lifetime)} of world {Format.Count(world)}",
            Question = "What happened to this one simulated cell?",
            Judgement = Judgement.None,
            Decision = "One cell, not a forecast",
            Answer = string.Join(". ", lines.Select(l => $"{l.Label}: {l.Text}")) + ".",
            HowSure = "There is no interval: it is one draw of many. What cells do on average, and how far they differ, is what run answers.",
            LargestAssumption = Assumption.Of("that one simulated lifetime shows how the model works", null, "is all that is claimed", "another lifetime of the same scenario runs otherwise; the figures of a run are over all of them"),
            Lines = lines,
            Decisive = ReportItem.Of(events, "What happened, in the order of time."),
            Evidence = [new(Reader.All, "counts", [], [ReportItem.Of(counts, "Events by kind.")])],
            Inputs = [new(scenario.Name, context.Sha256, context.Inputs)],
            Basis = TypicalBasis.Of(context.Inputs, scenario.Run.Worlds).Words,
            Method = ["The lifetime is the same as in the run of this scenario and seed: each of its draws depends on its address, not on the lifetimes around it.", "Steps and sampled bonds stand in tables/steps.csv and tables/bonds.csv."],
            NotModelled = CommonTexts.NotModelled,
            Checks = [.. CommonTexts.Checks(context)],
            Cautions = CommonTexts.Cautions,
            Reproduce = CommonTexts.Reproduce,
        };
    }
}
