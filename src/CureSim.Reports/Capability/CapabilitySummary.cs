using System.Text.Json.Nodes;
using CureSim.Reports.Json;
using CureSim.Reports.Runs;
using CureSim.Studies.Capability;

namespace CureSim.Reports.Capability;

/// <summary>summary.json about a sample.</summary>
public static class CapabilitySummary
{
    /// <summary>The document, its real numbers rounded to <see cref="MachineDigits.Count"/> significant digits.</summary>
    public static SummaryDocument Of(CapabilityAnalysis analysis, CapabilityContext context)
    {
        ArgumentNullException.ThrowIfNull(analysis);
        ArgumentNullException.ThrowIfNull(context);
        var document = new SummaryDocument("capability", context.Stem);
        var root = document.Root;
        var settings = analysis.Settings;
        root.Text("sampleSha256", context.Sha256).Text("column", context.Column).Text("unit", context.Unit).Text("groupColumn", context.Group).Count("values", analysis.Moments.Count);
        var asked = root.Object("settings");
        asked.Number("lowerLimit", settings.Limits.Lower, "no lower limit").Number("upperLimit", settings.Limits.Upper, "no upper limit").Number("target", settings.Limits.Target, "no target");
        asked.Number("confidence", settings.Confidence).Number("reliability", settings.Reliability);
        if (settings.Uncertainty is { } uncertainty)
        {
            asked.Number(uncertainty.IsRelative ? "expandedUncertaintyRatio" : "expandedUncertainty", uncertainty.Expanded).Number("coverageFactor", uncertainty.CoverageFactor);
        }

        root.Text("whichToUse", CapabilityWords.WhichToUse(analysis)).Text("shortTerm", CapabilityWords.ShortTerm(analysis));
        AddRequirement(root, analysis.Requirement);
        var figures = root.Object("figures");
        foreach (var row in CapabilityRows.Of(analysis, context))
        {
            var f = row.Figure;
            var target = figures.Object(row.Id).Text("meaning", row.Meaning).Text("unit", row.Unit).Text("method", row.Method).Text("source", row.Source);
            target.Number("value", f.Withheld is null ? f.Value : null, f.Withheld ?? "only a bound can be stated").Number("confidence", f.Confidence);
            Optional(target, "lower", f.Lower);
            Optional(target, "upper", f.Upper);
        }

        var normality = root.Object("normality");
        normality.Add("refused", analysis.Normality.Refused is { } refused ? JsonValue.Create(refused) : null);
        normality.Number("andersonDarlingModified", analysis.Normality.AndersonDarling.Modified, analysis.Normality.AndersonDarling.Withheld)
            .Number("andersonDarlingP", analysis.Normality.AndersonDarling.PValue, analysis.Normality.AndersonDarling.Withheld)
            .Number("shapiroWilk", analysis.Normality.ShapiroWilk.Statistic, analysis.Normality.ShapiroWilk.Withheld)
            .Number("shapiroWilkP", analysis.Normality.ShapiroWilk.PValue, analysis.Normality.ShapiroWilk.Withheld);
        AddTolerance(root, analysis);
        AddGroups(root, analysis.Groups);
        AddConformity(root, analysis.Conformity);
        root.Count("below", analysis.Outside.Below).Count("above", analysis.Outside.Above);
        var screening = root.Array("screening");
        foreach (string finding in analysis.Screening.Findings)
        {
            screening.Add(JsonValue.Create(finding));
        }

        MachineDigits.Apply(root);
        return document;
    }

    private static void AddRequirement(JsonObject root, RequirementFinding? requirement)
    {
        if (requirement is null)
        {
            root.Add("requirement", null);
            return;
        }

        var target = root.Object("requirement").Number("required", requirement.Required).Text("by", requirement.By.ToString());
        target.Number("observed", requirement.Observed, requirement.Withheld ?? "no index").Number("lowerLimit", requirement.LowerLimit, requirement.Withheld ?? "no limit");
        target.Add("shown", requirement.IsShown);
        if (requirement.EnoughParts is { } enough)
        {
            target.Count("partsThatWouldShowIt", enough);
        }
    }

    private static void AddTolerance(JsonObject root, CapabilityAnalysis analysis)
    {
        var tolerance = root.Object("toleranceIntervals");
        string? refused = analysis.Normality.Refused is true ? "normality is refused" : null;
        foreach (var (name, interval, why) in new[] { ("normal", analysis.Tolerance.Normal, refused), ("wilks", analysis.Tolerance.Wilks, analysis.Tolerance.Wilks.Withheld) })
        {
            var target = tolerance.Object(name);
            Optional(target, "factor", interval.Factor);
            target.Number("lower", why is null ? interval.Lower : null, why ?? "open below").Number("upper", why is null ? interval.Upper : null, why ?? "open above");
            target.Add("withinLimits", why is null && interval.LiesWithin(analysis.Settings.Limits) is { } within ? JsonValue.Create(within) : null);
        }

        tolerance.Count("wilksEnoughValues", analysis.Tolerance.WilksLeast);
    }

    private static void AddGroups(JsonObject root, GroupFinding? groups)
    {
        if (groups is null)
        {
            root.Add("groups", null);
            return;
        }

        var target = root.Object("groups").Count("count", groups.Groups.Count);
        target.Number("differP", groups.Components?.PValue, groups.Withheld ?? groups.Components?.Withheld ?? "no variation within");
        target.Add("differ", groups.Differ is { } differ ? JsonValue.Create(differ) : null);
    }

    private static void AddConformity(JsonObject root, ConformityFinding? conformity)
    {
        if (conformity is null)
        {
            root.Add("conformity", null);
            return;
        }

        var target = root.Object("conformity").Text("standard", "JCGM 106:2012; ISO 14253-1");
        target.Number("acceptanceLower", conformity.Acceptance?.Lower, conformity.Withheld ?? "no lower limit").Number("acceptanceUpper", conformity.Acceptance?.Upper, conformity.Withheld ?? "no upper limit");
        target.Count("accepted", conformity.Accepted).Count("inGuardBand", conformity.InGuardBand);
        target.Number("worstReading", conformity.Worst.Reading).Number("worstConformanceProbability", conformity.Worst.Conformance);
        target.Number("meanConformanceProbability", conformity.Mean.Conformance);
    }

    private static void Optional(JsonObject target, string name, double? value)
    {
        if (value is { } number)
        {
            target.Number(name, number);
        }
    }
}
