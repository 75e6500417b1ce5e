using CureSim.Core.Cell;
using CureSim.Reports.Pages;
using CureSim.Reports.Runs;
using CureSim.Reports.Text;
using CureSim.Studies.Ownership;

namespace CureSim.Reports.Ownership;

/// <summary>What the reports of the ownership studies say.</summary>
public static class OwnershipContent
{
    private static readonly string[] MoneyMethod =
    [
        "Options run over the same lifetimes and the same draws of prices (common random numbers); chances and bands are over futures: a cell with its prices each.",
        "Flows are discounted to the decision by the convention of the scenario; docs/ownership.md says what each kind of cost holds. What has no price in the scenario is not counted.",
    ];

    /// <summary>The content of a study of two or more options.</summary>
    /// <param name="study">The study.</param>
    /// <param name="contexts">Texts of the scenarios, in the order of the options.</param>
    /// <param name="plots">False: without pictures.</param>
    public static ReportContent Of(OwnershipResult study, IReadOnlyList<RunContext> contexts, bool plots)
    {
        ArgumentNullException.ThrowIfNull(study);
        ArgumentNullException.ThrowIfNull(contexts);
        var lines = OwnershipAnswer.Of(study);
        var figures = plots ? CommonTexts.Items(OwnershipPlots.Of(study), Caption) : [];
        var tables = OwnershipTables.Of(study).ToDictionary(t => t.Name);
        ReportItem[] Table(string name, string caption, params string[] columns) => tables.TryGetValue(name, out var t) && t.Rows.Count > 0 ? [ReportItem.Of(PageTable.Of(t, true, columns), caption)] : [];
        ReportItem[] Figures(params string[] names) => [.. names.Where(figures.ContainsKey).Select(n => figures[n])];
        string[] labels = [.. study.Present.Options.Select(o => o.Label)];
        var cell = study.Reference.Run.Scenario;
        var pair = study.Pair;
        string Money(Core.Statistics.Estimate e) => OwnershipWords.Money(e, study.Currency);
        var options = PageTable.OfTexts(
            ["Option", $"Discounted cost over {study.Years} years", "A good part", "Nonconforming parts", "Holds the window", "At its start"],
            study.Present.Options.Select(o => (string[])[o.Label, Money(o.Mean(study.Years)), Money(o.PerGoodPart), OwnershipWords.Ppm(o.Ppm), o.HoldsWindow switch { true => "yes", false => "no", _ => "not known" }, o.Run.Option.Installed ? "installed" : "bought"])) with { File = "tables/options.csv" };
        var common = Shared(cell, labels, contexts);
        return common with
        {
            Question = $"{string.Join(" or ", labels)}: which costs least over {study.Years} years, how sure is that, and what would turn it?",
            Judgement = lines[0].Tone == AnswerTone.Missed ? Judgement.Missed : Judgement.None,
            Decision = char.ToUpperInvariant(lines[0].Label[0]) + lines[0].Label[1..],
            Answer = $"{char.ToUpperInvariant(lines[0].Text[0])}{lines[0].Text[1..]}. {char.ToUpperInvariant(lines[1].Text[0])}{lines[1].Text[1..]}.",
            LargestAssumption = lines.FirstOrDefault(l => l.Label == "would turn it") is { } turn ? $"What would turn the decision: {turn.Text}." : "",
            Lines = [.. lines.Select(l => l.Tone == AnswerTone.Met ? l with { Tone = AnswerTone.Plain } : l)],
            Decisive = figures.GetValueOrDefault("difference") ?? ReportItem.Of(options, "Options side by side."),
            Evidence =
            [
                new(Reader.Management, "what it costs, and where the money goes", [], [ReportItem.Of(options, "Options side by side, at their present routine."), .. Figures("chance_ahead", "cost_bands", "breakdown", "what_would_turn_it")]),
                new(Reader.Line, "checks at which each is cheapest", [],
                    [.. Table("routines", "Timings of checks of each option; chosen is the cheapest that reaches the requirement.")]),
                new(Reader.Validation, "differences and what moves them", [$"{pair.Option.Label} less {pair.Other.Label} throughout: a positive difference means that {pair.Option.Label} costs more."],
                    [.. Table("differences_by_kind", "Difference of discounted cost by kind."), .. Table("affordable_change", "What the change may cost."), .. Table("what_if", "One input at a time at its 10th and 90th percentile.")]),
            ],
        };
    }

    /// <summary>The content of a sweep over numbers of sites.</summary>
    /// <param name="sweep">The sweep.</param>
    /// <param name="contexts">Texts of the scenarios, in the order of the options.</param>
    /// <param name="cell">The first scenario.</param>
    /// <param name="plots">False: without pictures.</param>
    public static ReportContent Of(SitesSweep sweep, IReadOnlyList<RunContext> contexts, Scenario cell, bool plots)
    {
        ArgumentNullException.ThrowIfNull(sweep);
        ArgumentNullException.ThrowIfNull(contexts);
        var lines = SitesReport.Answer(sweep);
        var figures = plots ? CommonTexts.Items(SitesReport.Plots(sweep), _ => "Discounted cost of each option by number of sites, with its 5 to 95 % band over futures.") : [];
        var table = ReportItem.Of(PageTable.Of(SitesReport.Table(sweep)), "Every number of sites.");
        return Shared(cell, [.. sweep.Labels], contexts) with
        {
            Question = $"{string.Join(" or ", sweep.Labels)}: which costs least at {Format.Count(sweep.Points[0].Sites)} to {Format.Count(sweep.Points[^1].Sites)} sites?",
            Decision = char.ToUpperInvariant(lines[0].Label.Trim()[0]) + lines[0].Label.Trim()[1..],
            Answer = $"{char.ToUpperInvariant(lines[0].Text[0])}{lines[0].Text[1..]}.",
            LargestAssumption = "That all sites belong to one part and the rate of parts stays, and the prices of the scenarios.",
            Lines = [.. lines.Select(l => l.Tone == AnswerTone.Met ? l with { Tone = AnswerTone.Plain } : l)],
            Decisive = figures.Values.FirstOrDefault() ?? table,
            Evidence = [new(Reader.Management, "by number of sites", [], figures.Count > 0 ? [table] : [])],
        };
    }

    private static ReportContent Shared(Scenario cell, string[] labels, IReadOnlyList<RunContext> contexts)
    {
        var common = CommonTexts.Base("ownership", cell, contexts[0]);
        return common with
        {
            Title = string.Join(" or ", labels),
            HowSure = $"Round brackets: 95 % Monte-Carlo interval{(cell.Run.Worlds > 1 ? " over worlds" : "")}. Square brackets: 5 to 95 % of futures, a cell with its prices each. Differences are over the same futures.",
            Inputs = [.. contexts.Select((c, i) => new ReportInputs(i < labels.Length ? labels[i] : c.FileStem, c.Sha256, c.Inputs))],
            Basis = string.Join(" ", contexts.Select((c, i) => $"{(i < labels.Length ? labels[i] : c.FileStem)}: {TypicalBasis.Of(c.Inputs, cell.Run.Worlds).Words}")),
            Method = [.. common.Method, .. MoneyMethod],
            NotModelled = [.. common.NotModelled, "A change of the spectral band between options; loans, taxes, inflation beyond the stated growth; what has no price in the scenario."],
            Checks = [.. contexts.Select((c, i) => $"{(i < labels.Length ? labels[i] : c.FileStem)}: {CommonTexts.Checks(c).ElementAt(1)}"), .. common.Checks],
        };
    }

    private static string Caption(string name) => name switch
    {
        "difference" => "Difference of discounted cost so far, year by year: median and bands over futures.",
        "cost_bands" => "Discounted cost so far of each option, year by year, with bands over futures.",
        "chance_ahead" => "Chance of being ahead, year by year, with its interval.",
        "breakdown" => "Mean discounted cost by kind.",
        "what_would_turn_it" => "Difference with one input at a time at its 10th and 90th percentile.",
        _ => name.Replace('_', ' ') + ".",
    };
}
