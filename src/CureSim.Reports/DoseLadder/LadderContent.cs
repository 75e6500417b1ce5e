using CureSim.Reports.Folders;
using CureSim.Reports.Pages;
using CureSim.Reports.Runs;
using CureSim.Reports.Text;
using CureSim.Studies.DoseLadders;

namespace CureSim.Reports.DoseLadders;

/// <summary>What the report of a measured dose ladder says.</summary>
public static class LadderContent
{
    /// <summary>The content.</summary>
    /// <param name="found">Limits found.</param>
    /// <param name="parts">The parts.</param>
    /// <param name="name">Name of the file, without extension.</param>
    /// <param name="sha256">Its hash.</param>
    /// <param name="unit">Unit of the response; null without one.</param>
    /// <param name="copied">Whether the file lies in the folder of results.</param>
    /// <param name="plots">False: without pictures.</param>
    public static ReportContent Of(LadderLimits found, IReadOnlyList<LadderPoint> parts, string name, string sha256, string? unit, bool copied, bool plots)
    {
        ArgumentNullException.ThrowIfNull(found);
        var lines = LadderReport.Of(found, unit);
        ReportItem[] figures = plots ? [.. LadderReport.Figures(found, parts, unit).Select(f => ReportItem.Of(f, "The parts of the ladder, with the limits that they show."))] : [];
        ReportItem[] tables = [.. LadderReport.Tables(found).Select(t => ReportItem.Of(PageTable.Of(t).Said("Parameter", LadderReport.NameOf), $"{char.ToUpperInvariant(t.Name[0])}{t.Name[1..].Replace('_', ' ')}."))];
        return new()
        {
            Command = "window",
            Title = name,
            Question = "Which doses does the team's own ladder show to be enough, and not too much?",
            Judgement = Judgement.None,
            Decision = lines[0].Label + ": " + lines[0].Text.Split(';')[0],
            Answer = $"{PlainText.Capital(lines[0].Text)}.",
            HowSure = lines.First(l => l.Label == "requirement").Text + ".",
            LargestAssumption = Assumption.Of("that the parts of the ladder stand for those to come", null, "is taken from your own measurements",
                "they share lots, set-up and source, so the doses that are enough may lie higher for others, by how much the ladder cannot say"),
            Lines = [.. lines],
            Decisive = figures.FirstOrDefault() ?? tables.FirstOrDefault(),
            Evidence = [new(Reader.Validation, "settings, limits and fit", [], [.. figures.Skip(1), .. figures.Length > 0 ? tables : tables.Skip(1)])],
            Basis = "Everything here comes from the measurements alone; nothing is simulated and nothing is typical.",
            Method = ["Limits are tested doses, or lie between tested ones that hold, never beyond. docs/window.md has the fit, its interval and the test of its shape."],
            NotModelled = ["Lots, set-ups and sources that the ladder did not see."],
            Checks = ["The file was read without a problem: header, units, numbers, size."],
            Cautions = ["UV light injures eyes and skin; uncured adhesive sensitises skin.", "The adhesive maker's data sheet and local codes come first."],
            Reproduce = [.. DataFile.Reproduce(copied, "ladder", sha256)],
        };
    }
}
