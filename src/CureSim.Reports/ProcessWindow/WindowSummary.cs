using System.Text.Json.Nodes;
using CureSim.Reports.Json;
using CureSim.Reports.Runs;
using CureSim.Studies.ProcessWindow;

namespace CureSim.Reports.ProcessWindow;

/// <summary>summary.json of the process-window study.</summary>
public static class WindowSummary
{
    /// <summary>The document, its real numbers rounded to <see cref="MachineDigits.Count"/> significant digits.</summary>
    public static SummaryDocument Of(WindowResult result, string sha256)
    {
        ArgumentNullException.ThrowIfNull(result);
        var map = result.Map;
        var study = map.Case;
        var document = new SummaryDocument("window", study.Cell.Name);
        var root = document.Root.Text("scenarioSha256", sha256);
        RunSummary.AddSize(root, study.Cell);
        root.Number("requiredStateIndex", study.Required).Number("nonconformingLimitPpm", 1e6 * study.Study.NonconformingLimit).Number("confidence", study.Study.Confidence);
        root.Text("risk", study.Study.Risk.ToString().ToLowerInvariant());
        Axis(root.Object("along"), study.X);
        Axis(root.Object("up"), study.Y);
        root.Count("settingsJudged", map.Judged).Count("edgeColumns", map.EdgeColumns).Count("statesAtEach", map.States.Made).Count("checksAtEach", map.States.Checks);
        var held = root.Object("held");
        held.Text("requalification", "for a lost or left state: recorded, not acted upon").Number("toleranceLimit", study.ToleranceHeld, "stated by the scenario, or no checks");
        var times = held.Array("pathTimesSeconds");
        foreach (double t in study.TimesOfPath)
        {
            times.Add(JsonValue.Create(t));
        }

        root.Add("empty", JsonValue.Create(map.IsEmpty));
        var p = map.SetPoint;
        var set = root.Object("setPoint").Number("along", p.X).Number("up", p.Y).Number("smallestMargin", p.Smallest).Number("standardError", p.Error).Number("unfavourable", WindowMap.Unfavourable(p)).Number("nonconformingPpm", 1e6 * p.Nonconforming.Average());
        set.Text("binds", WindowWords.Binds(study, p.Binding, p.FractionIsNearer));
        if (map.Rectangle is { } r)
        {
            var target = root.Object("rectangle").Number("alongFrom", r.FromX).Number("alongTo", r.ToX).Number("upFrom", r.FromY).Number("upTo", r.ToY).Number("leastBound", r.LeastBound).Number("standardErrors", r.Critical, "over worlds the band holds it");
            target.Count("settings", r.Nodes).Add("reachesEnd", JsonValue.Create(r.ReachesEnd(map)));
        }

        var edges = root.Array("edges");
        foreach (var c in map.Crossings)
        {
            var edge = new JsonObject().Number("along", c.X).Text("edge", c.Rising ? "lower" : "upper").Number("up", c.Y).Number("lower95", Finite(c.Lower95), "flat").Number("upper95", Finite(c.Upper95), "flat");
            if (c.Band is { } band)
            {
                edge.Object("worlds").Number("p05", band.Lower05, band.Withheld ?? "no band").Number("p95", band.Upper95, band.Withheld ?? "no band");
            }

            edge.Text("binds", WindowWords.Binds(study, c.Binding, c.FractionBinds));
            edges.Add(edge);
        }

        Rest(root, result);
        MachineDigits.Apply(root);
        return document;
    }

    private static double? Finite(double v) => double.IsFinite(v) ? v : null;

    private static void Axis(JsonObject target, WindowAxis axis)
    {
        target.Text("key", axis.Key).Text("unit", axis.Unit).Number("from", axis.From).Number("to", axis.To).Count("values", axis.Values.Length);
        target.Add("found", JsonValue.Create(axis.Found));
    }

    private static void Rest(JsonObject root, WindowResult result)
    {
        var compared = root.Array("limits");
        foreach (var c in result.Comparisons)
        {
            compared.Add(new JsonObject().Text("limit", c.Limit.Id).Text("verdict", c.Verdict).Number("room", c.Room));
        }

        var spreads = root.Array("spreadsHalved");
        foreach (var e in result.Spreads)
        {
            var effect = new JsonObject().Text("spread", e.Spread.Id).Number("smallestMargin", e.Margin);
            RunSummary.AddEstimate(effect.Object("change"), e.Change);
            spreads.Add(effect);
        }

        var points = root.Array("challengePoints");
        foreach (var p in result.Challenges)
        {
            var target = new JsonObject().Text("point", p.Name).Number("along", p.X).Number("up", p.Y).Count("parts", p.Parts);
            RunSummary.AddEstimate(target.Object("conforming"), p.Conforming);
            RunSummary.AddEstimate(target.Object("allPass"), p.Pass);
            points.Add(target);
        }

        var plans = root.Array("plans");
        foreach (var plan in result.Assurance?.Plans ?? [])
        {
            var target = new JsonObject().Text("name", plan.Rule.Plan.Name).Count("parts", plan.Rule.Plan.Parts);
            if (plan.Own.Figures(plan.Rule.Plan.Good) is { } f)
            {
                RunSummary.AddEstimate(target.Object("passes"), f.Pass.Estimate);
                RunSummary.AddEstimate(target.Object("passesWhileNotGood"), f.PassAndNotGood.Estimate);
            }

            plans.Add(target);
        }

        var triggers = root.Array("requalificationTriggers");
        foreach (var t in result.Triggers)
        {
            var target = new JsonObject().Text("trigger", t.Name).Text("remark", t.Remark);
            if (t.WithinHorizon is { } within)
            {
                RunSummary.AddEstimate(target.Object("withinHorizon"), within);
            }

            if (t.Median is { } median)
            {
                RunSummary.AddEstimate(target.Object("medianHours"), median);
            }

            triggers.Add(target);
        }
    }
}
