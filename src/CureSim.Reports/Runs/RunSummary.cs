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

    /// <summary>How much of the bands over worlds rests on typical inputs instead of the user's own, and which part of it each unknown input makes.</summary>
    private static void AddBandOrigins(JsonObject root, RunFindings findings)
    {
        if (findings.Run.Scenario.Run.Worlds < 2)
        {
            return;
        }

        var (basis, rows) = (findings.Basis, findings.Context.Inputs);
        var band = root.Object("worldBand").Count("unknownInputs", basis.Unknown).Count("unknownInputsTypical", basis.TypicalUnknown);
        var share = basis.Share?.Scale(100.0);
        band.Number("restsOnTypicalPercent", share?.Value, share is null ? "nothing is unknown" : share.Withheld ?? "not separated");
        Optional(band, "restsOnTypicalPercentLower95", share?.Lower95);
        Optional(band, "restsOnTypicalPercentUpper95", share?.Upper95);
        var figures = band.Array("shares");
        foreach (var shares in findings.Run.BandShares)
        {
            var figure = new JsonObject().Text("figure", shares.Figure.Id).Text("withheld", shares.Withheld);
            if (shares.Withheld is null)
            {
                figure.Number("adjustedRSquared", shares.AdjustedRSquared);
                var inputs = figure.Array("inputs");
                foreach (var (input, part) in shares.Shares)
                {
                    var item = new JsonObject().Text("input", input.Name).Text("origin", Pages.TypicalBasis.IsOwn(input, rows) ? "yours" : "typical");
                    AddEstimate(item.Object("share"), part);
                    inputs.Add(item);
                }

                AddEstimate(figure.Object("noSingleInput"), shares.Rest);
                AddEstimate(figure.Object("notFromOwnInputs"), shares.NotFrom(i => Pages.TypicalBasis.IsOwn(i, rows)));
            }

            figures.Add(figure);
        }
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
