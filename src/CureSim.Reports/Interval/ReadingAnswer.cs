using System.Text.Json.Nodes;
using CureSim.Reports.Json;
using CureSim.Reports.Runs;
using CureSim.Reports.Text;
using CureSim.Studies.Interval;

namespace CureSim.Reports.Interval;

/// <summary>What is said about one reading of today.</summary>
public static class ReadingAnswer
{
    /// <summary>Lines for a terminal.</summary>
    public static IReadOnlyList<AnswerLine> Of(ReadingToday reading)
    {
        ArgumentNullException.ThrowIfNull(reading);
        var lines = new List<AnswerLine>
        {
            new("reading", $"{Format.Value(reading.WattsPerSquareMetre * 1e-4, "W/cm²")} at site {reading.Site + 1}, {Format.Value(100.0 * reading.Deviation, "%", 3)} from its reference"),
            new("verdict", reading.Verdict, reading.Verdict == "out of tolerance" ? AnswerTone.Missed : AnswerTone.Plain),
            new("to do", reading.ToDo),
        };
        if (reading.Withheld is { } reason)
        {
            lines.Add(new("causes", $"withheld: {reason}"));
            return lines;
        }

        lines.Add(new("likely causes", string.Join(", ", reading.Causes.Select(c => $"{c.Name} {FigureText.Of(c.Chance.Scale(100.0), "%")}"))));
        lines.Add(new("state", $"in {FigureText.Of(reading.Qualified!.Scale(100.0), "%")} of the cells that read so the state is qualified"));
        lines.Add(new("rests on", $"{Format.Value(reading.EffectiveLifetimes, null, 3)} effective lifetimes of {ReadingToday.Lifetimes} at most; the cause is what moved the reading most since the site was last set"));
        return lines;
    }

    /// <summary>The document of --json.</summary>
    public static SummaryDocument Document(ReadingToday reading, string scenario, string sha256)
    {
        ArgumentNullException.ThrowIfNull(reading);
        var document = new SummaryDocument("interval reading", scenario);
        var root = document.Root.Text("scenarioSha256", sha256);
        root.Count("site", reading.Site + 1).Number("readingWattsPerSquareCentimetre", reading.WattsPerSquareMetre * 1e-4).Number("deviation", reading.Deviation);
        root.Text("verdict", reading.Verdict).Text("toDo", reading.ToDo).Number("effectiveLifetimes", reading.EffectiveLifetimes).Text("withheld", reading.Withheld);
        var causes = root.Array("causes");
        foreach (var cause in reading.Causes)
        {
            var row = new JsonObject().Text("cause", cause.Name);
            RunSummary.AddEstimate(row.Object("chance"), cause.Chance);
            causes.Add(row);
        }

        if (reading.Qualified is { } qualified)
        {
            RunSummary.AddEstimate(root.Object("stateQualified"), qualified);
        }

        MachineDigits.Apply(root);
        return document;
    }
}
