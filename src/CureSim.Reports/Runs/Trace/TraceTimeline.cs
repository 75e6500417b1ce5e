using System.Collections.Immutable;
using CureSim.Core.Cell;
using CureSim.Engine.Block;
using CureSim.Reports.Tables;
using CureSim.Reports.Text;

namespace CureSim.Reports.Runs;

/// <summary>What happened to one lifetime, as people read it.</summary>
public static class TraceTimeline
{
    /// <summary>The first events, one a row: time, what, where, with which number.</summary>
    public static Table Events(LifetimeTrace trace, int most)
    {
        ArgumentNullException.ThrowIfNull(trace);
        var table = new Table("timeline",
            new Column("hours", ColumnKind.Number, "Time, h", 2), new Column("event", ColumnKind.Text, "Event"), new Column("where", ColumnKind.Text, "Where"),
            new Column("what", ColumnKind.Text, "What"));
        foreach (var what in trace.Events.Take(most))
        {
            string[] words = [.. new[] { what.Detail, TraceValue.Of(what)?.Shown }.OfType<string>()];
            table.Add(what.Seconds / 3600.0, what.What, what.Site is { } site ? $"site {Format.Count(site + 1)}" : "cell", string.Join(", ", words));
        }

        return table;
    }

    /// <summary>The lifetime in a few lines.</summary>
    public static ImmutableArray<AnswerLine> Summary(Scenario scenario, LifetimeTrace trace)
    {
        ArgumentNullException.ThrowIfNull(scenario);
        ArgumentNullException.ThrowIfNull(trace);
        int Count(string what) => trace.Events.Count(e => e.What == what);
        string outside = scenario.Window.InStudyMeterUnits
            ? "conformity is not told: the limits move with the study's radiometer"
            : $"{Format.Count(trace.Bonds.Count(b => TraceTables.Conforms(scenario, b) == false))} of them outside the window";
        var first = trace.Events.FirstOrDefault(e => e.What == "requalify event");
        string requalify = trace.Events.Any(e => e.What == "commissioned, never qualified") ? "not qualified after commissioning"
            : first is null ? "no event to requalify on"
            : $"first after {Format.Hours(first.Seconds / 3600.0)}: {first.Detail}";
        return
        [
            new("Bonds sampled", $"{Format.Count(trace.Bonds.Count)}, {outside}"),
            new("Requalification", requalify),
            new("Excursions", $"{Format.Count(Count("excursion starts"))}, {Format.Count(Count("excursion detected"))} detected"),
            new("Emitters replaced", $"{Format.Count(Count("emitter replaced") + Count("emitter failed"))}, {Format.Count(Count("emitter failed"))} of them after a sudden failure"),
            new("Guides replaced", Format.Count(Count("guide replaced"))),
            new("Disturbances", Format.Count(Count("disturbance"))),
        ];
    }
}
