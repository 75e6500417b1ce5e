using CureSim.Core.Cell;
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

    /// <summary>Plain name of an input of the study: "radiometer's error that calibration leaves (unknown)".</summary>
    /// <param name="input">As the indices and the what-if table name it: a path, several of them with " + ", what is no path as it is.</param>
    public static string Name(string input)
    {
        ArgumentNullException.ThrowIfNull(input);
        if (input == DriverGroup.Time || !input.Contains('.', StringComparison.Ordinal))
        {
            return input == "checks (missed and late)" ? "missed and late checks" : input;
        }

        if (input.StartsWith(Disturbance, StringComparison.Ordinal))
        {
            return $"disturbance \"{input[Disturbance.Length..]}\"";
        }

        int note = input.IndexOf(" (", StringComparison.Ordinal);
        string[] paths = (note < 0 ? input : input[..note]).Split(" + ");
        return string.Join(" + ", paths.Select(p => InputNames.Of(Full(p, paths[0])))) + (note < 0 ? "" : input[note..]);
    }

    private const string Disturbance = "disturbances.";

    // Siblings of the first path are named by their last words alone.
    private static string Full(string path, string first)
    {
        for (int at = first.LastIndexOf('.'); at > 0 && !InputNames.Knows(path); at = first.LastIndexOf('.', at - 1))
        {
            if (InputNames.Knows($"{first[..at]}.{path}"))
            {
                return $"{first[..at]}.{path}";
            }
        }

        return path;
    }

    /// <summary>What is done and to what: "halve the spread of imbalance of the guide's legs".</summary>
    public static string Deed(Variant variant) => variant.Action switch
    {
        VariantAction.Halved when variant.Words == "half as often" => $"{Name(variant.Input)} half as often",
        VariantAction.Halved => $"halve the spread of {Name(variant.Input)}",
        VariantAction.Higher => $"raise the mean of {Name(variant.Input)} by its standard deviation",
        _ => $"lower the mean of {Name(variant.Input)} by its standard deviation",
    };

    /// <summary>Input and action in a few words, for a bar and a line of the terminal.</summary>
    public static string Short(Variant variant) => variant.Action switch
    {
        VariantAction.Halved when variant.Words == "half as often" => $"{Name(variant.Input)}: half as often",
        VariantAction.Halved => Name(variant.Input),
        VariantAction.Higher => $"{Name(variant.Input)}: mean\u00A0+\u00A0sd",
        _ => $"{Name(variant.Input)}: mean\u00A0−\u00A0sd",
    };

    /// <summary>Inputs whose means add up to one quantity by construction, so that their moved means tell one thing and not several; empty where fewer than two of them are moved.</summary>
    /// <remarks>A reading has the sum of the radiometer's errors in its logarithm, an exposure the sum of setting, offset and error, a distance the sum of nominal, set-up and part (docs/model.md). Limits in units of the study's meter move with that meter alone, and a radiometer held in the place of the bond sees the set-up's distance and not the part's.</remarks>
    public static IEnumerable<(string Brief, string Remark)> OneMean(WhatIf table)
    {
        ArgumentNullException.ThrowIfNull(table);
        var moved = table.Rows.Where(r => r.Variant.Action != VariantAction.Halved && !r.Variant.Input.Contains(' ', StringComparison.Ordinal)).Select(r => r.Variant.Input).ToHashSet(StringComparer.Ordinal);
        string[] readings = [.. table.Scenario.Window.InStudyMeterUnits ? (string[])[] : ["radiometer.meter"], "radiometer.calibration", "radiometer.session", "radiometer.repeatability"];
        string[] distances = table.Scenario.Checks?.MeasuredAt == MeasuredAt.BondFixture ? [] : ["fixture.distance.setup", "fixture.distance.part"];
        (string[] Paths, string What)[] sums = [(readings, "every reading"), (["exposure.offset", "exposure.error"], "every exposure time"), (distances, "every distance")];
        foreach (var (paths, what) in sums)
        {
            string[] present = [.. paths.Where(moved.Contains).Select(Name)];
            if (present.Length > 1)
            {
                yield return ($"the moved means of {present.Length} inputs that add up in {what} are one finding, not {present.Length}",
                    $"The means of {string.Join(", ", present[..^1])} and {present[^1]} are one quantity by construction: they add up in {what}. Their moved means differ by their standard deviations alone and are one finding, not {present.Length}.");
            }
        }
    }

    /// <summary>Trade unit of a number of the draws and what it holds of the SI unit's; no unit for ratios of one world and bare numbers.</summary>
    public static (string? Unit, double PerSi) UnitOf(DrawColumn column)
    {
        ArgumentNullException.ThrowIfNull(column);

        // First arrivals are in hours already; logarithms of factors are shown as per cent, which they are for small ones.
        return column.Name.StartsWith("factor", StringComparison.Ordinal) || column.Name == "law" ? (null, 1.0)
            : column.Name.StartsWith("first arrival", StringComparison.Ordinal) ? ("h", 1.0) : InputNames.UnitOf(column.Input);
    }

    /// <summary>Name of a number's axis: what is drawn as a factor near 1 is shown as its deviation.</summary>
    public static string AxisOf(DrawColumn column)
    {
        ArgumentNullException.ThrowIfNull(column);
        bool deviation = column.Input is "guide.imbalance" or "guide.reseat" or "guide.transmission" or "loop.ripple" or "tip.cleaning_effect"
            || (column.Input.StartsWith("radiometer.", StringComparison.Ordinal) && column.Input != "radiometer.drift");
        string name = PlainText.Capital(Name(column.Input));
        return deviation ? name + ", deviation" : column.Input.EndsWith("exponential.at", StringComparison.Ordinal) ? "Time constant of the emitter's ageing" : name;
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

    /// <summary>Site in words.</summary>
    public static string Site(DriversResult study) => study.Scenario.Production.SiteCount > 1 ? $"site {study.Indices.Site + 1}" : "the site";

    /// <summary>Response in words.</summary>
    public static string Response(DriversResult study) => RunMeasures.NameOf(study.WhatIf.Response).Replace('_', ' ');
}
