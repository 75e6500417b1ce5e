using System.Text.Json.Nodes;
using CureSim.Core.Statistics;
using CureSim.Reports.Json;
using CureSim.Studies.Runs;

namespace CureSim.Reports.Runs;

/// <summary>summary.json of a run: every key figure with its interval and band, the verdict, the class over time, the causes.</summary>
public static class RunSummary
{
    /// <summary>The document, its real numbers rounded to <see cref="MachineDigits.Count"/> significant digits.</summary>
    public static SummaryDocument Of(RunFindings findings)
    {
        ArgumentNullException.ThrowIfNull(findings);
        var cell = findings.Run.Scenario;
        var document = new SummaryDocument("run", cell.Name);
        var root = document.Root;
        root.Text("scenarioSha256", findings.Context.Sha256);
        AddSize(root, cell);
        if (findings.Run.Precision is { } precision)
        {
            PrecisionText.Add(root, precision);
        }

        AddBandOrigins(root, findings);
        AddRequirement(root, findings.Requirement);
        AddModel(root, findings.TimeModel);
        var figures = root.Object("keyFigures");
        foreach (var figure in findings.Run.Figures)
        {
            var target = figures.Object(figure.Measure.Id).Text("meaning", figure.Measure.Meaning).Text("unit", figure.Measure.Unit);
            AddEstimate(target, figure.Estimate);
            if (figure.Band is { } band)
            {
                AddBand(target.Object("worlds"), band);
            }
        }

        AddGain(root, findings);
        AddCapability(root, findings);
        var causes = root.Array("requalifyCauses");
        foreach (var (cause, percent) in findings.EndCauses)
        {
            causes.Add(new JsonObject().Text("cause", RunFindings.Words(cause)).Number("cellsPercent", percent));
        }

        MachineDigits.Apply(root);
        return document;
    }

    /// <summary>
    /// How much of the bands over worlds rests on typical inputs instead of the user's own: nothing while no unknown input is typical, which is so for
    /// every default that is shipped; else it is not separated and said to be so.
    /// </summary>
    private static void AddBandOrigins(JsonObject root, RunFindings findings)
    {
        if (findings.Run.Scenario.Run.Worlds < 2)
        {
            return;
        }

        InputRow[] unknown = [.. findings.Context.Inputs.Where(i =>
            i.Value.Contains("unknown", StringComparison.Ordinal) || i.Value.Contains("events:", StringComparison.Ordinal))];
        int typical = unknown.Count(i => string.Equals(i.Origin, "typical", StringComparison.OrdinalIgnoreCase));
        root.Object("worldBand").Count("unknownInputs", unknown.Length).Count("unknownInputsTypical", typical)
            .Number("restsOnTypicalPercent", typical == 0 ? 0.0 : null, typical == 0 ? null : "typical and own unknown inputs are not separated");
    }

    /// <summary>Adds value, standard error and limits of an estimate, or null and the reason.</summary>
    internal static void AddEstimate(JsonObject target, Estimate estimate)
    {
        target.Number("value", estimate.Value, estimate.Withheld);
        if (estimate.Enough is { } enough)
        {
            target.Count("lifetimesEnough", enough);
        }

        Optional(target, "standardError", estimate.StandardError);
        Optional(target, "lower95", estimate.Lower95);
        Optional(target, "upper95", estimate.Upper95);
    }

    /// <summary>Adds what was simulated.</summary>
    internal static void AddSize(JsonObject root, Core.Cell.Scenario cell)
    {
        var run = root.Object("run");
        run.Count("worlds", cell.Run.Worlds).Count("lifetimesPerWorld", cell.Run.LifetimesPerWorld).Count("partsAStep", cell.Run.PartsAStep);
        run.Text("sampling", SamplingText.Of(cell.Run));
        run.Add("seed", JsonValue.Create(cell.Run.Seed));
        run.Count("sites", cell.Production.SiteCount).Count("steps", cell.Production.StepCount).Number("stepHours", cell.Production.StepSeconds / 3600.0);
        run.Number("horizonHours", cell.Production.HorizonSeconds / 3600.0).Number("horizonYears", cell.Production.HorizonSeconds / cell.Production.YearSeconds);
    }

    private static void AddRequirement(JsonObject root, RequirementVerdict? verdict)
    {
        if (verdict is null)
        {
            root.Add("requirement", null);
            return;
        }

        var target = root.Object("requirement");
        target.Number("requiredStateIndex", verdict.Required).Text("moment", verdict.Moment);
        target.Number("percentile05", verdict.Percentile.Estimate.Value, verdict.Percentile.Estimate.Withheld);
        target.Add("met", verdict.IsMet);
        target.Add("intervalHoldsRequirement", verdict.IsClose);
    }

    private static void AddModel(JsonObject root, TimeModelFinding? finding)
    {
        if (finding is null)
        {
            root.Add("timeDependentModel", null);
            return;
        }

        root.Object("timeDependentModel").Text("standard", "ISO 22514-2").Text("class", finding.Model.Letter).Text("meaning", finding.Model.Meaning)
            .Text("reason", finding.Reason);
    }

    private static void AddGain(JsonObject root, RunFindings findings)
    {
        var target = root.Object("conditionalEstimate");
        foreach (bool parts in new[] { false, true })
        {
            if (ConditionalGain.Of(findings.Run.Whole.Records.Span, parts, findings.Run.Result.Plan.IsStratified) is { } gain)
            {
                const string None = "nothing was counted, or the sample shows no variance beside that of chance";
                target.Object(parts ? "parts" : "bonds").Number("differenceInStandardErrors", gain.Score, None).Number("gain", gain.Gain, None).Number("gainBound", gain.Bound, None);
            }
        }
    }

    private static void AddCapability(JsonObject root, RunFindings findings)
    {
        var capability = root.Object("capability");
        foreach (var response in findings.Responses.Where(r => r.IsLimited))
        {
            var comparison = PercentileCapability.Compare(
                RunMeasures.Overall(findings.Run.Whole, response.Index), RunMeasures.Percentile(findings.Run.Whole, response.Index));
            var target = capability.Object(response.Id).Text("whichToUse", comparison.Statement);
            Optional(target, "methodsDifferRatio", comparison.LargestRelativeDifference);
            if (RunMeasures.ShortTerm(findings.Run.Whole, response.Index) is { } worst)
            {
                target.Count("worstSite", worst.Site + 1);
            }
        }
    }

    private static void AddBand(JsonObject target, WorldBand band)
    {
        target.Number("p05", band.Lower05, band.Withheld ?? "no band");
        target.Number("p95", band.Upper95, band.Withheld ?? "no band");
    }

    private static void Optional(JsonObject target, string name, double? value)
    {
        if (value is { } number)
        {
            target.Number(name, number);
        }
    }
}
