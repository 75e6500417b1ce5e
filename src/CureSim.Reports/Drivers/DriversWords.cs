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

    /// <summary>What is done and to what, for a line of the terminal: "halve guide.imbalance".</summary>
    public static string BriefDeed(Variant variant) => variant.Action switch
    {
        VariantAction.Halved when variant.Words == "half as often" => $"{Brief(variant.Input)} half as often",
        VariantAction.Halved => $"halve {Brief(variant.Input)}",
        VariantAction.Higher => $"{Brief(variant.Input)} higher by its sd",
        _ => $"{Brief(variant.Input)} lower by its sd",
    };

    /// <summary>A name without its first words where it is long: "… late_time (unknown)".</summary>
    public static string Brief(string name)
    {
        const int Fits = 34;
        string left = name;
        while (left.Length > Fits && left.IndexOf('.') is var at and > 0)
        {
            left = left[(at + 1)..];
        }

        return left.Length == name.Length ? name : "…" + left;
    }

    /// <summary>Input and action in a few words, for a bar.</summary>
    public static string Short(Variant variant) => variant.Action switch
    {
        VariantAction.Halved when variant.Words == "half as often" => $"{variant.Input}: half as often",
        VariantAction.Halved => variant.Input,
        VariantAction.Higher => $"{variant.Input}: mean + sd",
        _ => $"{variant.Input}: mean − sd",
    };

    /// <summary>The same with a place to break at in every long path, after a point near its middle: a plot would cut it.</summary>
    public static string Breakable(string text)
    {
        const int Fits = 26;
        static string Word(string word)
        {
            int[] points = [.. Enumerable.Range(0, word.Length - 1).Where(i => word[i] == '.')];
            return word.Length <= Fits || points.Length == 0 ? word : word.Insert(points.MinBy(i => Math.Abs(i - (word.Length / 2))) + 1, " ");
        }

        return string.Join(' ', text.Split(' ', StringSplitOptions.RemoveEmptyEntries).Select(Word));
    }

    /// <summary>Trade unit of a number of the draws and what it holds of the SI unit's; no unit for ratios of one world and bare numbers.</summary>
    public static (string? Unit, double PerSi) UnitOf(DrawColumn column)
    {
        ArgumentNullException.ThrowIfNull(column);
        if (column.Name.StartsWith("factor", StringComparison.Ordinal) || column.Name == "law")
        {
            return (null, 1.0);
        }

        // First arrivals are in hours already; logarithms of factors are shown as per cent, which they are for small ones.
        return column.Name.StartsWith("first arrival", StringComparison.Ordinal) ? ("h", 1.0) : column.Input switch
        {
            "source.irradiance" => ("W/cm²", 1e-4),
            "source.band_ageing" or "loop.sensor_drift" or "guide.loss" or "radiometer.drift" => ("%/1000 h", 3600.0 * 1e5),
            "tip.fouling" => ("%/10000", 1e6),
            "exposure.offset" or "exposure.error" => ("s", 1.0),
            "substrate.absorption" => ("/mm", 1e-3),
            "substrate.thickness" => ("mm", 1e3),
            var p when p.StartsWith("cure.rate", StringComparison.Ordinal) => ("/s", 1.0),
            var p when p.StartsWith("fixture.tilt", StringComparison.Ordinal) => ("°", 180.0 / Math.PI),
            var p when p.StartsWith("fixture.", StringComparison.Ordinal) => ("mm", 1e3),
            var p when p.StartsWith("source.ageing", StringComparison.Ordinal) && p.EndsWith("_part", StringComparison.Ordinal) => ("%", 100.0),
            var p when p.EndsWith("time", StringComparison.Ordinal) || p.EndsWith(".at", StringComparison.Ordinal) || p.StartsWith("source.failure", StringComparison.Ordinal) => ("h", 1.0 / 3600.0),
            var p when p.StartsWith("radiometer.", StringComparison.Ordinal) || p is "guide.imbalance" or "guide.reseat" or "loop.ripple" or "source.wander.spread" => ("%", 100.0),
            "guide.transmission" or "tip.cleaning_effect" => ("%", 100.0),
            _ => (null, 1.0),
        };
    }

    /// <summary>Name of a number's axis: what is drawn as a factor near 1 is shown as its deviation.</summary>
    public static string AxisOf(DrawColumn column)
    {
        ArgumentNullException.ThrowIfNull(column);
        bool deviation = column.Input is "guide.imbalance" or "guide.reseat" or "guide.transmission" or "loop.ripple" or "tip.cleaning_effect"
            || (column.Input.StartsWith("radiometer.", StringComparison.Ordinal) && column.Input != "radiometer.drift");
        return deviation ? column.Input + ", deviation" : column.Input.EndsWith("exponential.at", StringComparison.Ordinal) ? column.Input + ", as time constant" : column.Input;
    }

    /// <summary>Which draw it is, in words: "first draw, site 1".</summary>
    public static string DrawOf(DrawColumn column)
    {
        ArgumentNullException.ThrowIfNull(column);
        return column.Name.StartsWith("first arrival", StringComparison.Ordinal) || !(column.Name.StartsWith("first", StringComparison.Ordinal) || column.Name.StartsWith("second", StringComparison.Ordinal))
            ? column.Name
            : column.Name.StartsWith("first", StringComparison.Ordinal) ? "first draw" + column.Name["first".Length..] : "second draw" + column.Name["second".Length..];
    }

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
