using System.Text.Json.Nodes;
using CureSim.Reports.Json;

namespace CureSim.Reports.Runs;

/// <summary>summary.json of a comparison.</summary>
public static class CompareSummary
{
    /// <summary>The document, its real numbers rounded to <see cref="MachineDigits.Count"/> significant digits.</summary>
    public static SummaryDocument Of(ComparedRuns compared)
    {
        ArgumentNullException.ThrowIfNull(compared);
        var document = new SummaryDocument("compare", compared.A.Run.Scenario.Name);
        var root = document.Root;
        root.Text("otherScenario", compared.B.Run.Scenario.Name);
        root.Text("scenarioSha256", compared.A.Context.Sha256).Text("otherScenarioSha256", compared.B.Context.Sha256);
        RunSummary.AddSize(root, compared.A.Run.Scenario);
        root.Text("spectralBand", compared.BandChanges ? ComparedRuns.BandRemark : "same kind of source");
        var cautions = root.Array("cautions");
        foreach (string caution in compared.Cautions())
        {
            cautions.Add(JsonValue.Create(caution));
        }

        var figures = root.Object("keyFigures");
        foreach (var pair in compared.Paired.Figures)
        {
            var target = figures.Object(pair.Measure.Id).Text("meaning", pair.Measure.Meaning).Text("unit", pair.Measure.Unit);
            foreach (var (name, figure) in new[] { ("a", pair.A), ("b", pair.B) })
            {
                if (figure is not null)
                {
                    RunSummary.AddEstimate(target.Object(name), figure.Estimate);
                }
            }

            RunSummary.AddEstimate(target.Object("difference"), pair.Difference);
            if (pair.WorldsAbove is { } above)
            {
                target.Count("worldsBAboveA", above);
            }
        }

        MachineDigits.Apply(root);
        return document;
    }
}
