using System.Text.Json.Nodes;
using CureSim.Core.Statistics;
using CureSim.Reports.Json;
using CureSim.Reports.Runs;
using CureSim.Studies.Fit;

namespace CureSim.Reports.Fit;

/// <summary>summary.json of a fitted log.</summary>
public static class FitSummary
{
    /// <summary>The document, its real numbers rounded to <see cref="MachineDigits.Count"/> significant digits.</summary>
    public static SummaryDocument Of(LogFit fit, FitContext context, PredictiveCheck? check)
    {
        ArgumentNullException.ThrowIfNull(fit);
        ArgumentNullException.ThrowIfNull(context);
        var document = new SummaryDocument("fit", context.Stem);
        var root = document.Root;
        root.Text("logSha256", context.Sha256).Text("fitted", FitWords.Of(fit.Quantity)).Text("fittedWhy", fit.QuantityWhy).Count("readings", fit.Log.Readings.Count()).Count("emitters", fit.Runs.Length)
            .Number("hoursWatched", fit.Hours).Count("suddenFailures", fit.Failures);
        AddColumns(root, context);
        var forms = root.Array("forms");
        foreach (var f in fit.Forms)
        {
            var target = new JsonObject().Text("form", f.Form.Name);
            target.Add("taken", fit.Chosen.Contains(f));
            target.Number("aiccDifference", f.Difference, f.Withheld ?? "too few readings").Number("akaikeWeight", f.Weight, f.Withheld ?? "too few readings")
                .Number("residualStandardDeviation", f.ResidualDeviation, f.Withheld ?? "no degrees of freedom");
            var parameters = target.Object("parameters");
            for (int j = 0; f.Withheld is null && j < f.Form.Parameters.Length; j++)
            {
                var p = f.Form.Parameters[j];
                var one = parameters.Object(p.Key).Text("unit", p.Unit);
                Add(one, "median", f.Median(j).Scale(p.PerUnit));
                Add(one, "spreadLog", f.Parameters[j].Spread);
                one.Count("emitters", f.Parameters[j].Units);
            }

            forms.Add(target);
        }

        Add(root, "repeatability", fit.Repeatability);
        Add(root, "cleaningLoss", fit.CleaningLoss);
        var life = root.Object("failureLaw");
        life.Number("shape", fit.Life.Shape, fit.Life.Withheld ?? "no law").Number("scaleHours", fit.Life.Scale, fit.Life.Withheld ?? "no law");
        root.Count("unexplainedSteps", fit.Steps.Length).Number("siteHours", FittedKeys.SiteHours(fit));
        var keys = root.Object("scenarioKeys");
        foreach (var key in FittedKeys.Of(fit))
        {
            keys.Text(key.Path, key.Text);
        }

        foreach (var (name, list) in new[] { ("screening", fit.Screening), ("notes", [.. context.Notes, .. fit.Notes]) })
        {
            var target = root.Array(name);
            foreach (string s in list)
            {
                target.Add(JsonValue.Create(s));
            }
        }

        if (check is not null)
        {
            var target = root.Object("predictiveCheck").Number("pValue", check.PValue, check.Withheld ?? "withheld").Count("compared", check.Compared).Count("inside", check.Inside).Count("lifetimes", check.Lifetimes);
            target.Add("contradicts", check.Contradicts);
        }

        MachineDigits.Apply(root);
        return document;
    }

    internal static void AddColumns(JsonObject root, FitContext context)
    {
        var columns = root.Object("columns");
        foreach (var (role, _, header, guessed) in context.Columns)
        {
            columns.Object(role).Text("header", header).Add("guessed", guessed);
        }
    }

    private static void Add(JsonObject root, string name, Estimate e) =>
        root.Object(name).Number("value", e.Value, e.Withheld).Number("lower95", e.Lower95, e.Withheld ?? "no interval is stated").Number("upper95", e.Upper95, e.Withheld ?? "no interval is stated");
}
