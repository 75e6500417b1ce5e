using System.Text.Json.Nodes;
using CureSim.Reports.Json;
using CureSim.Reports.Runs;
using CureSim.Studies.Drivers;

namespace CureSim.Reports.Drivers;

/// <summary>summary.json of the drivers study.</summary>
public static class DriversSummary
{
    /// <summary>The document, its real numbers rounded to <see cref="MachineDigits.Count"/> significant digits.</summary>
    public static SummaryDocument Of(DriversResult study, string sha256)
    {
        ArgumentNullException.ThrowIfNull(study);
        var document = new SummaryDocument("drivers", study.Scenario.Name);
        var root = document.Root.Text("scenarioSha256", sha256);
        RunSummary.AddSize(root, study.Scenario);
        root.Text("finding", DriversAnswer.Sentence(study)); // "answer" is the member that every --json adds
        AddWhatIf(root.Object("whatIf"), study.WhatIf);
        AddIndices(root.Object("doseIndices"), study.Indices);
        var importances = root.Array("importance");
        foreach (var i in study.Importances)
        {
            var target = new JsonObject().Text("answer", i.Id).Text("predicted", i.Answer).Count("lifetimes", i.Lifetimes).Count("heldOut", i.HeldOut).Text("note", i.Note).Text("withheld", i.Withheld);
            RunSummary.AddEstimate(target.Object("rSquared"), i.RSquared);
            var inputs = target.Array("inputs");
            foreach (var input in i.Inputs)
            {
                inputs.Add(new JsonObject().Text("input", input.Input).Number("drop", input.Drop.Value, "withheld").Number("dropSd", input.Drop.StandardError, "withheld"));
            }

            importances.Add(target);
        }

        MachineDigits.Apply(root);
        return document;
    }

    private static void AddWhatIf(JsonObject target, WhatIf found)
    {
        target.Count("worlds", found.Scenario.Run.Worlds).Count("lifetimesPerWorld", found.Scenario.Run.LifetimesPerWorld);
        var basis = target.Object("base");
        for (int i = 0; i < found.Measures.Length; i++)
        {
            RunSummary.AddEstimate(basis.Object(found.Measures[i].Id), found.Base[i]);
        }

        if (found.Lead is { } lead)
        {
            RunSummary.AddEstimate(target.Object("leadOverNext"), lead);
        }

        var rows = target.Array("rows");
        foreach (var row in found.Rows)
        {
            var item = new JsonObject().Text("input", row.Variant.Input).Text("level", row.Variant.Level).Text("change", row.Variant.Words);
            for (int i = 0; i < found.Measures.Length; i++)
            {
                RunSummary.AddEstimate(item.Object(found.Measures[i].Id), row.Changes[i]);
            }

            rows.Add(item);
        }
    }

    private static void AddIndices(JsonObject target, DoseIndices found)
    {
        target.Count("site", found.Site + 1).Count("points", found.Points).Count("randomisations", DoseIndices.Randomisations);
        var moments = target.Array("moments");
        foreach (var m in found.Moments)
        {
            var item = new JsonObject().Text("moment", m.Moment.Id);
            if (m.Indices is { } indices)
            {
                RunSummary.AddEstimate(item.Object("firstOrderSum"), indices.FirstOrderSum);
                foreach (var (name, ranked) in new[] { ("quantities", m.RankedQuantities), ("levels", m.RankedLevels) })
                {
                    var list = item.Array(name);
                    foreach (var (group, index) in ranked)
                    {
                        var row = new JsonObject().Text("input", group.Name).Text("level", group.Level);
                        RunSummary.AddEstimate(row.Object("firstOrder"), index.First);
                        RunSummary.AddEstimate(row.Object("total"), index.Total);
                        list.Add(row);
                    }
                }
            }

            moments.Add(item);
        }
    }
}
