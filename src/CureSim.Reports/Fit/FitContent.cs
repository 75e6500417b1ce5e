using System.Collections.Immutable;
using CureSim.Reports.Folders;
using CureSim.Reports.Pages;
using CureSim.Reports.Text;
using CureSim.Studies.Fit;

namespace CureSim.Reports.Fit;

/// <summary>What the report of a fit to a log says.</summary>
public static class FitContent
{
    private const int MostSentences = 8;

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
        bool fitted = !fit.Chosen.IsEmpty;
        ReportItem[] figures = plots ? [.. FitPlots.Of(fit, context, check).Select(f => ReportItem.Of(f, Caption(f.Name)))] : [];
        ReportItem[] models =
        [
            .. fit.Forms.IsEmpty ? [] : (ReportItem[])[ReportItem.Of(FitPageTables.Forms(fit), $"Ageing forms compared; those within {Format.Value(LogFit.Indistinguishable)} of the best AICc are kept beside it.")],
            .. !fitted ? [] : (ReportItem[])[ReportItem.Of(FitPageTables.Parameters(fit), "What a scenario takes: medians and spreads over emitters, with 95 % intervals.")],
        ];
        ReportItem[] details =
        [
            .. !fitted ? [] : (ReportItem[])[ReportItem.Of(FitPageTables.Emitters(fit), "Every emitter by the form that fits best.")],
            ReportItem.Of(FitPageTables.Errors(fit), "Errors of reading, with 95 % intervals."),
            .. fit.Steps.IsEmpty ? [] : (ReportItem[])[ReportItem.Of(FitPageTables.Steps(fit), "Steps of the output that no event of the log explains.")],
        ];
        var decisive = figures.FirstOrDefault() ?? models.FirstOrDefault();
        return new()
        {
            Command = "fit",
            Title = PlainText.OneLine(context.File),
            Question = "Which ageing and which errors does the shop's own log show?",
            Judgement = Judgement.None,
            Decision = Decision(fit) + (check is { Withheld: null, Contradicts: true } ? "; the scenario contradicts the log" : ""),
            Answer = (fitted ? $"Medians over emitters: {FitWords.All(fit.Chosen[0])}." : $"Ageing is {lines[0].Text}.") + (check is null ? "" : $" Predictive check: {FitAnswer.PredictiveLine(check).Text}."),
            HowSure = "Brackets: 95 % intervals of the fitted values, for the model that was chosen; other models stand in the tables.",
            LargestAssumption = Assumption.Of("that the emitters of the log stand for those to come, and that nothing moved the readings but what the log tells", null, "is taken from your own log",
                "an event or another radiometer that it leaves out would pass for ageing, and other emitters age otherwise, by how much it cannot say"),
            Lines = lines,
            Decisive = decisive,
            Evidence =
            [
                new(Reader.All, "how well it fits", [], [.. figures.Where(f => f != decisive), .. models.Where(t => t != decisive)]),
                new(Reader.Validation, "emitters, errors and steps", ["Correlations of parameters, every reading with its residual, and the predictive check by reading lie in tables/."], [.. details]),
                new(Reader.Validation, "how the log was read", Sentences(fit, context), [ReportItem.Of(FitPageTables.Columns(context), "Columns of the log.")]),
            ],
            Basis = "The fitted values are of the log itself; none is typical.",
            Method = ["docs/statistics.md has the fit, the choice between models and the intervals."],
            NotModelled = ["What happens beyond the hours of the log."],
            Checks = ["The log was read without a problem: header, units, order, size."],
            Cautions = ["A fitted curve beyond its data is an assumption.", "UV light injures eyes and skin; the maker's data sheet and local codes come first."],
            Reproduce = [.. DataFile.Reproduce(context.Copied, "log", context.Sha256)],
        };
    }

    private static string Decision(LogFit fit)
    {
        string[] names = [.. fit.Chosen.Select(c => FitWords.Name(c.Form))];
        return names.Length == 0 ? "No ageing form could be fitted"
            : $"{PlainText.Capital(names[0])} ageing" + (names.Length > 1 ? $"; {string.Join(" and ", names[1..])} cannot be told apart from it" : "");
    }

    private static string Caption(string name) => name switch
    {
        "output_and_fit" => "Readings of the emitters with most of them, and the fitted curves.",
        "residuals" => "Readings less fit, over the emitters' hours.",
        "predictive_check" => "As-found readings of the log over the band that the scenario gives.",
        _ => name.Replace('_', ' ') + ".",
    };

    // Few of them: a log that is bad in every row would fill the page.
    private static ImmutableArray<string> Sentences(LogFit fit, FitContext context)
    {
        string[] all = [.. context.Notes.Concat(fit.Screening).Select(PlainText.OneLine)];
        return all.Length <= MostSentences ? [.. all] : [.. all.Take(MostSentences), $"{Format.Count(all.Length - MostSentences)} more in tables/notes.csv and tables/screening.csv."];
    }
}
