using System.Text.Json.Nodes;
using CureSim.Core.Statistics;
using CureSim.Reports.Json;
using CureSim.Reports.Runs;
using CureSim.Studies.Interval;
using CureSim.Studies.Runs;

namespace CureSim.Reports.Interval;

/// <summary>summary.json of the interval study.</summary>
public static class IntervalSummary
{
    /// <summary>The document, its real numbers rounded to <see cref="MachineDigits.Count"/> significant digits.</summary>
    public static SummaryDocument Of(IntervalResult study, string sha256)
    {
        ArgumentNullException.ThrowIfNull(study);
        var document = new SummaryDocument("interval", study.Scenario.Name);
        var root = document.Root.Text("scenarioSha256", sha256);
        RunSummary.AddSize(root, study.Scenario);
        root.Number("reliabilityTarget", study.Study.ReliabilityTarget);
        root.Number("nonconformingLimitPpm", 1e6 * study.Study.NonconformingLimit, "not limited");
        root.Text("recommended", study.Longest?.Run.Timing.Name).Text("nearestMiss", study.NearestMiss?.Run.Timing.Name).Text("cheapest", study.Cheapest?.Run.Timing.Name);
        root.Text("limitedBy", study.Binding?.Limiting?.Contributor.Limits);
        if (study.Scenario.Costs is { } costs)
        {
            root.Text("currency", costs.Currency);
            RunSummary.AddEstimate(root.Object("costMinimumHours"), study.CostMinimum);
        }

        var candidates = root.Array("candidates");
        foreach (var c in study.Candidates)
        {
            var target = new JsonObject().Text("name", c.Run.Timing.Name).Number("intervalHours", c.Run.IntervalHours);
            target.Add("meets", JsonValue.Create(c.Meets));
            target.Number("inToleranceUnfavourable", c.Reliability);
            target.Number("ppmUnfavourable", c.Ppm, "the lifetimes simulated cannot say");
            var figures = target.Object("figures");
            foreach (var figure in c.Run.Figures)
            {
                Figure(figures.Object(figure.Measure.Id), figure);
            }

            candidates.Add(target);
        }

        Contributors(root, study);
        Detection(root, study);
        MachineDigits.Apply(root);
        return document;
    }

    private static void Figure(JsonObject target, KeyFigure figure)
    {
        RunSummary.AddEstimate(target, figure.Estimate);
        if (figure.Band is { } band)
        {
            target.Object("worlds").Number("p05", band.Lower05, band.Withheld ?? "no band").Number("p95", band.Upper95, band.Withheld ?? "no band");
        }
    }

    private static void Contributors(JsonObject root, IntervalResult study)
    {
        if (study.Binding is not { } binding)
        {
            return;
        }

        var target = root.Object("binding").Text("candidate", binding.Timing.Name);
        var effects = target.Array("contributors");
        foreach (var effect in binding.Effects)
        {
            var row = new JsonObject().Text("perfect", effect.Contributor.Name);
            row.Add("meets", JsonValue.Create(effect.Verdict.Meets));
            Add(row.Object("inToleranceChangePoints"), effect.Reliability);
            Add(row.Object("ppmChange"), effect.Ppm);
            effects.Add(row);
        }
    }

    private static void Detection(JsonObject root, IntervalResult study)
    {
        if (study.Detection is not { } detection)
        {
            return;
        }

        var rows = root.Array("detection");
        foreach (var row in detection.Rows)
        {
            var target = new JsonObject().Text("fault", row.Fault).Count("lifetimes", row.Lifetimes).Count("onsets", row.Onsets);
            var controls = target.Object("controls");
            foreach (var cell in row.Cells)
            {
                var seen = controls.Object(cell.Control);
                Add(seen.Object("chance"), cell.Chance);
                seen.Number("medianHours", cell.MedianHours, cell.Chance.Withheld ?? cell.Remark ?? "not seen");
                seen.Number("partsMeanwhile", cell.PartsMeanwhile, cell.Chance.Withheld ?? cell.Remark ?? "not seen");
            }

            rows.Add(target);
        }
    }

    private static void Add(JsonObject target, Estimate estimate) => RunSummary.AddEstimate(target, estimate);
}
