using CureSim.Reports.Folders;
using CureSim.Reports.Pages;
using CureSim.Reports.Runs;
using CureSim.Reports.Text;
using CureSim.Studies.Capability;

namespace CureSim.Reports.Capability;

/// <summary>What the report of a measured sample says.</summary>
public static class CapabilityContent
{
    /// <summary>The content.</summary>
    /// <param name="analysis">The sample judged.</param>
    /// <param name="context">Where it comes from.</param>
    /// <param name="plots">False: without pictures.</param>
    public static ReportContent Of(CapabilityAnalysis analysis, CapabilityContext context, bool plots)
    {
        ArgumentNullException.ThrowIfNull(analysis);
        ArgumentNullException.ThrowIfNull(context);
        var lines = CapabilityAnswer.Of(analysis, context);
        string Line(string label) => lines.FirstOrDefault(l => l.Label == label)?.Text ?? "";
        var figures = plots ? CapabilityFigures.Of(analysis, context).Select(f => ReportItem.Of(f, f.Name switch
        {
            "histogram" => "The values against their limits.",
            "normal_plot" => "The values against a normal law: on the line they follow it.",
            _ => "The values in the order of the file: drift, jumps, stuck readings.",
        })).ToArray() : [];
        var tables = CapabilityTables.Of(analysis, context).ToDictionary(t => t.Name);
        ReportItem[] Table(string name, string caption, params string[] columns) =>
            tables.TryGetValue(name, out var t) && t.Rows.Count > 0 ? [ReportItem.Of(PageTable.Of(t, true, columns).Said("Figure", HeaderWords.Of), caption)] : [];
        var required = analysis.Requirement;
        string confidence = CapabilityWords.Confidence(analysis);
        return new()
        {
            Command = "capability",
            Title = $"{context.File}: {context.Column}",
            Question = required is { } r ? $"Does the sample show an index of {Format.Value(r.Required)} with {confidence} confidence?" : $"How capable is the {context.Words}, as far as {Format.Count(analysis.Moments.Count)} values can show?",
            Judgement = required is null ? Judgement.None : required.IsShown ? Judgement.Met : Judgement.Missed,
            Decision = required is null ? "No index is required" : required.IsShown ? $"Shown: an index of {Format.Value(required.Required)}" : $"Not shown: an index of {Format.Value(required.Required)}",
            Answer = $"Ppk {Line("Ppk")}." + (required is null ? "" : $" Required: {Line("Required")}."),
            HowSure = $"Brackets: {confidence} interval of the sample, for independent values.",
            LargestAssumption = LargestAssumption(analysis),
            Lines = lines,
            Decisive = figures.FirstOrDefault(),
            Evidence =
            [
                new(Reader.All, "the sample", [$"Which index: {CapabilityWords.WhichToUse(analysis)}."], [.. figures.Skip(1), .. Table("groups", "Groups: mean and standard deviation within each.")]),
                new(Reader.Validation, "figures and methods", [required is null ? "To sign anything an index must be required before the parts are measured (--capability)." : required.IsShown ? $"May be claimed of the output that was sampled: an index of at least {Format.Value(required.Required)}, with {confidence} confidence." : $"An index of {Format.Value(required.Required)} cannot be claimed with this sample."],
                [
                    .. Table("figures", "Every figure with its interval, or why it is withheld.", "meaning", "value", "lower", "upper", "confidence", "unit", "withheld", "method", "source"), .. Table("normality", "Tests of normality."),
                    .. Table("tolerance_intervals", "Statistical tolerance intervals."), .. Table("acceptance", "Limits moved inwards by the uncertainty of a reading."), .. Table("screening", "Signs of rounded, copied or stuck readings."),
                ]),
            ],
            Basis = "Everything here is of the sample itself; nothing is simulated and nothing is typical.",
            Method =
            [
                "Ppk and Pp: ISO 22514-2; intervals after Bissell 1990, chi-square, noncentral t. Percentile index: order statistics, bootstrap. Fractions: Clopper and Pearson 1934, Wilson 1927. Tolerance intervals: ISO 16269-6, Wilks 1941.",
                "Normality is refused below p = 0.05 (Anderson–Darling; common practice, no source). The order in which an index is chosen is a rule of this tool; docs/capability.md has it with every source.",
            ],
            NotModelled = ["What is to come: drift, replacement, other set-ups and lots that the sample did not see. run simulates how they are shared."],
            Checks = ["The file was read without a problem: encoding, header, unit, numbers, size.", $"Screening: {Line("Screening")}"],
            Cautions =
            [
                "A sample says what was, not what will be.", "The intervals hold for independent values.",
                "UV light injures eyes and skin; uncured adhesive sensitises skin. Local codes, the maker's data sheet and licensed practice come first.",
            ],
            Reproduce = [.. DataFile.Reproduce(context.Copied, "file", context.Sha256)],
        };
    }

    // The interval's width goes with one over the root of the number of values.
    private static string LargestAssumption(CapabilityAnalysis analysis)
    {
        const string Half = "were they worth half their number, the interval of Ppk would be about 1.4 times as wide";
        string values = $"that the {Format.Count(analysis.Moments.Count)} values are independent and of one stable output";
        return analysis.Groups switch
        {
            null => Assumption.Of(values, null, "is common practice and could not be tested, as no groups were given", $"values of one set-up share lamp, lot and meter; {Half}"),
            { Differ: true } => Assumption.Of(values, null, "is common practice, and your own groups speak against it", $"they differ by more than chance, so the sample shows less than its number of values says; {Half}"),
            _ => Assumption.Of("that the set-ups and lots of this sample stand for those to come", null, "is common practice, and your own groups do not speak against it", "what they did not see (ageing, another lot, another meter) would lower Ppk, by how much the sample cannot say"),
        };
    }
}
