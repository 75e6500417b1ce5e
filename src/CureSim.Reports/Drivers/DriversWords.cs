using CureSim.Core.Statistics;
using CureSim.Reports.Runs;
using CureSim.Reports.Text;
using CureSim.Studies.Drivers;
using CureSim.Studies.Runs;

namespace CureSim.Reports.Drivers;

/// <summary>Names and figures of the drivers study as people read them.</summary>
internal static class DriversWords
{
    /// <summary>Short name of a what-if figure.</summary>
    public static string NameOf(Measure measure) => measure.Id switch
    {
        var id when id.EndsWith("_ppk", StringComparison.Ordinal) => "Ppk",
        var id when id.EndsWith("_cpk", StringComparison.Ordinal) => "Cpk",
        "parts_nonconforming_conditional_ppm" => "nonconforming",
        "requalify_restricted_mean_hours" => "time without requalification",
        _ => "cost",
    };

    /// <summary>Name in table headers, with its unit.</summary>
    public static string HeaderOf(Measure measure) => measure.Id switch
    {
        var id when id.EndsWith("_ppk", StringComparison.Ordinal) => "ppk",
        var id when id.EndsWith("_cpk", StringComparison.Ordinal) => "cpk",
        "parts_nonconforming_conditional_ppm" => "nonconforming_ppm",
        "requalify_restricted_mean_hours" => "requalify_restricted_mean_hours",
        _ => "cost_per_year",
    };

    /// <summary>True when more of the figure is better.</summary>
    public static bool MoreIsBetter(Measure measure) => NameOf(measure) is "Ppk" or "Cpk" or "time without requalification";

    /// <summary>What is done and to what: "halve the spread of guide.imbalance".</summary>
    public static string Deed(Variant variant) => variant.Action switch
    {
        VariantAction.Halved when variant.Words == "half as often" => $"{variant.Input} half as often",
        VariantAction.Halved => $"halve the spread of {variant.Input}",
        VariantAction.Higher => $"raise the mean of {variant.Input} by its sd",
        _ => $"lower the mean of {variant.Input} by its sd",
    };

    /// <summary>Input and action in a few words, for a bar.</summary>
    public static string Short(Variant variant) => variant.Action switch
    {
        VariantAction.Halved when variant.Words == "half as often" => $"{variant.Input}: half as often",
        VariantAction.Halved => variant.Input,
        VariantAction.Higher => $"{variant.Input}: mean + sd",
        _ => $"{variant.Input}: mean − sd",
    };

    /// <summary>A change with its sign and interval.</summary>
    public static string Signed(Estimate change, string? unit = null) => change.Value is not { } v ? "withheld" : (v > 0.0 ? "+" : "") + FigureText.Of(change, unit);

    /// <summary>An index in hundredths.</summary>
    public static string Index(Estimate index) => FigureText.Of(index);

    /// <summary>Unit of a measure as it stands beside a number.</summary>
    public static string? UnitOf(Measure measure) => measure.Unit;

    /// <summary>Site in words.</summary>
    public static string Site(DriversResult study) => study.Scenario.Production.SiteCount > 1 ? $"site {study.Indices.Site + 1}" : "the site";

    /// <summary>Response in words.</summary>
    public static string Response(DriversResult study) => RunMeasures.NameOf(study.WhatIf.Response).Replace('_', ' ');
}
