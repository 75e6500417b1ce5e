using System.Text.Json.Nodes;
using CureSim.Core.Cell;
using CureSim.Reports.Json;
using CureSim.Reports.Runs;
using CureSim.Studies.Assurance;

namespace CureSim.Reports.Assurance;

/// <summary>summary.json of an assurance study.</summary>
public static class AssuranceSummary
{
    /// <summary>The document, its real numbers rounded to <see cref="MachineDigits.Count"/> significant digits.</summary>
    public static SummaryDocument Of(AssuranceStudy study, string sha256)
    {
        ArgumentNullException.ThrowIfNull(study);
        var document = new SummaryDocument("plan", study.Scenario.Name);
        document.Root.Text("scenarioSha256", sha256);
        RunSummary.AddSize(document.Root, study.Scenario);
        var plans = document.Root.Array("plans");
        foreach (var found in study.Plans)
        {
            var rule = found.Rule;
            var target = new JsonObject().Text("name", rule.Plan.Name).Text("accepts", AssuranceWords.Accepts(rule)).Text("textbook", AssuranceWords.Textbook(rule))
                .Count("parts", rule.Plan.Parts).Number("claimedNonconforming", rule.Claimed).Number("textbookRisk", rule.TextbookRisk)
                .Text("goodOver", rule.Plan.Good == GoodOver.Horizon ? "horizon" : "qualification");
            plans.Add(target);
            var rows = target.Array("rows");
            foreach (var row in found.Rows)
            {
                rows.Add(Row(row));
            }
        }

        MachineDigits.Apply(document.Root);
        return document;
    }

    private static JsonObject Row(AssuranceRow row)
    {
        var target = new JsonObject().Text("spread", row.Label);
        if (row.Taking is { } taking)
        {
            target.Count("setups", taking.Setups).Count("lots", taking.Lots).Count("emitterAges", taking.EmitterAges);
        }

        target.Add("asStated", JsonValue.Create(row.IsOwn));
        target.Number("carriedOut", row.CarriedOut);
        if (row.FirstHours is { } first && row.LastHours is { } last)
        {
            target.Number("firstOccasionHours", first).Number("lastOccasionHours", last);
        }

        if (row.EquivalentParts is { } equal)
        {
            RunSummary.AddEstimate(target.Object("equivalentParts"), equal);
        }

        target.Text("withheld", row.Withheld);
        foreach (var (name, figures) in new[] { ("goodOverHorizon", row.Horizon), ("goodAtQualification", row.AtQualification) })
        {
            if (figures is not null)
            {
                Figures(target.Object(name), figures);
            }
        }

        return target;
    }

    private static void Figures(JsonObject target, AssuranceFigures figures)
    {
        (string Name, AssuranceShare Share)[] all =
        [
            ("pass", figures.Pass), ("notGood", figures.NotGood), ("passAndNotGood", figures.PassAndNotGood), ("passIfNotGood", figures.PassIfNotGood),
            ("notGoodIfPass", figures.NotGoodIfPass), ("passIfGood", figures.PassIfGood),
        ];
        foreach (var (name, share) in all)
        {
            var part = target.Object(name);
            RunSummary.AddEstimate(part, share.Estimate);
            if (share.Band is { } band)
            {
                part.Object("worlds").Number("p05", band.Lower05, band.Withheld ?? "no band").Number("p95", band.Upper95, band.Withheld ?? "no band");
            }
        }
    }
}
