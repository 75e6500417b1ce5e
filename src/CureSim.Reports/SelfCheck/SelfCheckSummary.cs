using System.Text.Json.Nodes;
using CureSim.Reports.Json;

namespace CureSim.Reports.SelfCheck;

/// <summary>summary.json of a self-check. It holds no time and no machine.</summary>
public static class SelfCheckSummary
{
    /// <summary>The document.</summary>
    public static SummaryDocument Of(SelfCheckRecord record)
    {
        ArgumentNullException.ThrowIfNull(record);
        var document = new SummaryDocument("self-check", SelfCheckFiles.Name);
        JsonObject root = document.Root;
        root.Text("version", record.Place.Version).Count("checks", record.Count).Count("missed", record.Missed).Count("throughEngine", record.ThroughEngine)
            .Count("figures", record.Figures).Count("checksListed", record.Items.Length).Count("checksAvailable", record.Available);
        root.Add("allPassed", JsonValue.Create(record.AllPassed));
        var list = root.Array("list");
        foreach (var i in record.Items)
        {
            var entry = new JsonObject().Text("id", i.Id).Text("topic", i.Topic).Text("what", i.What).Text("source", i.Source).Text("provenance", i.Provenance);
            entry.Add("sampled", JsonValue.Create(i.IsSampled));
            entry.Add("throughEngine", JsonValue.Create(i.ThroughEngine));
            entry.Text("countedWith", i.CountedWith).Text("expected", i.Expected).Text("found", i.Found).Text("tolerance", i.Tolerance)
                .Number("smallestDetectableRelativeError", i.SmallestDetectable, i.IsSampled ? "no figure with a standard error" : "chance does not enter")
                .Count("figures", i.Figures);
            entry.Add("passed", JsonValue.Create(i.Passed));
            list.Add(entry);
        }

        return document;
    }
}
