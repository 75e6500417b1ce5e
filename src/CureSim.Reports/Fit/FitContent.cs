using CureSim.Reports.Pages;
using CureSim.Reports.Text;
using CureSim.Studies.Fit;

namespace CureSim.Reports.Fit;

/// <summary>What the report of a fit to a log says.</summary>
public static class FitContent
{
    /// <summary>The content.</summary>
    /// <param name="fit">The fit.</param>
    /// <param name="context">Where the log comes from.</param>
    /// <param name="check">The scenario compared with the log; null without one.</param>
    /// <param name="plots">False: without pictures.</param>
    public static ReportContent Of(LogFit fit, FitContext context, PredictiveCheck? check, bool plots)
    {
        ArgumentNullException.ThrowIfNull(fit);
        ArgumentNullException.ThrowIfNull(context);
        var lines = FitAnswer.Of(fit, context, check);
        ReportItem[] figures = plots ? [.. FitPlots.Of(fit, context, check).Select(f => ReportItem.Of(f, f.Figure.Title.TrimEnd('?', '.') + "."))] : [];
        ReportItem[] tables = [.. FitTables.Of(fit, context, check).Where(t => t.Rows.Count > 0).Select(t => ReportItem.Of(PageTable.Of(t), $"{char.ToUpperInvariant(t.Name[0])}{t.Name[1..].Replace('_', ' ')}."))];
        return new()
        {
            Command = "fit",
            Title = context.Stem,
            Question = "Which ageing and which errors does the shop's own log show?",
            Judgement = Judgement.None,
            Decision = $"{char.ToUpperInvariant(lines[0].Label[0])}{lines[0].Label[1..]}: {lines[0].Text.Split(';')[0]}",
            Answer = $"{char.ToUpperInvariant(lines[0].Text[0])}{lines[0].Text[1..]}.",
            HowSure = "Brackets: 95 % intervals of the fitted values, for the model that was chosen; other models stand in the tables.",
            LargestAssumption = "That the emitters of the log stand for those to come, and that what the log does not tell (events, other radiometers) did not move the readings.",
            Lines = lines,
            Decisive = figures.FirstOrDefault() ?? tables.FirstOrDefault(),
            Evidence = [new(Reader.All, "the fit", [], [.. figures.Skip(1), .. figures.Length > 0 ? tables : tables.Skip(1)])],
            Basis = "The fitted values are of the log itself; none is typical.",
            Method = ["docs/statistics.md has the fit, the choice between models and the intervals."],
            NotModelled = ["What happens beyond the hours of the log."],
            Checks = ["The log was read without a problem: header, units, order, size."],
            Cautions = ["A fitted curve beyond its data is an assumption.", "UV light injures eyes and skin; the maker's data sheet and local codes come first."],
            Reproduce = [$"curesim fit {PlainText.OneLine(context.File)} …", $"with the options of the record, on the file with SHA-256 {context.Sha256}. The folder does not hold the log, so reproduce cannot make it again."],
        };
    }
}
