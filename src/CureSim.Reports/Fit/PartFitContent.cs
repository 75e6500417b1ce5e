using CureSim.Core.Statistics;
using CureSim.Reports.Folders;
using CureSim.Reports.Pages;
using CureSim.Reports.Text;
using CureSim.Studies.Fit;

namespace CureSim.Reports.Fit;

/// <summary>What the report of a distribution fitted to measured parts says.</summary>
public static class PartFitContent
{
    /// <summary>The content.</summary>
    /// <param name="fit">The fit.</param>
    /// <param name="context">Where the values come from.</param>
    /// <param name="plots">False: without pictures.</param>
    public static ReportContent Of(PartFit fit, PartContext context, bool plots)
    {
        ArgumentNullException.ThrowIfNull(fit);
        ArgumentNullException.ThrowIfNull(context);
        var lines = PartFitFiles.Answer(fit, context);
        var figure = plots && fit.Withheld is null ? ReportItem.Of(("values_and_law", PartFitFiles.Picture(fit, context)), "The values as a histogram, and the density of the laws that they do not refuse.") : null;
        var laws = fit.Withheld is null ? ReportItem.Of(Laws(fit, context), "Laws compared, best AICc first; SE: one standard error.") : null;
        ReportItem[] items = [.. new[] { figure, laws }.OfType<ReportItem>()];
        return new()
        {
            Command = "fit",
            Title = $"{PlainText.OneLine(context.File)}: {PlainText.OneLine(context.Column)}",
            Question = $"Which distribution do the {Format.Count(fit.Values.Length)} measured values of {PlainText.OneLine(context.Name)} follow?",
            Judgement = Judgement.None,
            Decision = fit.Withheld is not null ? "No distribution: too few values" : fit.Taken is { } taken ? $"A {taken.Name} distribution" : "No law fits: the values themselves are taken",
            Answer = $"{PlainText.Capital(lines[0].Text)}." + (fit.AlsoPossible.Any() ? $" These cannot be told apart from it: {string.Join(", ", fit.AlsoPossible.Select(l => l.Name))}." : ""),
            HowSure = fit.Taken is null ? "A sample shows its own values; tails beyond the smallest and largest of them stay unknown."
                : "SE: one standard error of a parameter, for independent values and the law that was chosen. Which law it is, is less sure: see what else is possible.",
            LargestAssumption = Assumption.Of("that the parts measured stand for those to come, and that the values are independent", null, "is taken from your own measurements",
                "parts of one lot or one set-up share what moves them, so the spread of those to come may be larger, by how much the sample cannot say"),
            Lines = lines,
            Decisive = items.FirstOrDefault(),
            Evidence = items.Length > 1 ? [new(Reader.Validation, "the laws compared", [$"As a scenario writes it: {PartFitFiles.Yaml(fit, context)}"], [.. items.Skip(1)])] : [],
            Basis = "Everything here is of the sample itself; nothing is typical.",
            Method =
            [
                "Laws are fitted by maximum likelihood and compared by AICc. The best is refused when its Anderson–Darling test, made with samples of the fitted law that are fitted again, "
                    + $"gives p below {Format.Value(PartFit.Refusal)} (common practice, no source); the values themselves are then taken, each as likely.",
                "docs/fit.md and docs/statistics.md of the tool have the laws, the tests and their sources.",
            ],
            NotModelled = ["Error of the gauge: the distribution holds it. Lots and set-ups that the sample did not see."],
            Checks = ["The file was read without a problem: encoding, header, unit, numbers, size.", $"Screening: {lines.First(l => l.Label == "Screening").Text}"],
            Cautions = ["A sample says what was, not what will be. A fitted tail beyond the data is an assumption.", "UV light injures eyes and skin; uncured adhesive sensitises skin. Local codes, the maker's data sheet and licensed practice come first."],
            Reproduce = [.. DataFile.Reproduce(context.Copied, "file", context.Sha256)],
        };
    }

    private static PageTable Laws(PartFit fit, PartContext context) => PageTable.OfTexts(
        ["Law", "First parameter", "Second parameter", "AICc above best", "Anderson–Darling A²", "p", "Taken"],
        fit.Laws.Select(l =>
        {
            var (first, second) = PartFitFiles.Names(l.Name);
            return (string[])
            [
                l.Name, $"{PartFitFiles.Spaced(first)} {Format.WithError(l.First, l.FirstError, PartFitFiles.Units(l.Name, context.Unit).First)}", $"{PartFitFiles.Spaced(second)} {Format.WithError(l.Second, l.SecondError, PartFitFiles.Units(l.Name, context.Unit).Second)}",
                Format.Value(l.Criterion - fit.Laws[0].Criterion, null, 2), Format.Value(l.AndersonDarling, null, 3), l.PValue is { } p ? Format.Value(p, null, 2) : "not asked for",
                l == fit.Taken ? "yes" : fit.AlsoPossible.Contains(l) ? "as likely" : "no",
            ];
        })) with { File = "tables/laws.csv" };
}
