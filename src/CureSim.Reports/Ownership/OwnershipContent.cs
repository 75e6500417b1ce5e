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
            Decision = OwnershipAnswer.Headline(study),
            Answer = $"{PlainText.Capital(lines[0].Text)}.",
            LargestAssumption = LargestAssumption(study, contexts),
            Lines = [.. lines.Select(l => l.Tone == AnswerTone.Met ? l with { Tone = AnswerTone.Plain } : l)],
            Decisive = figures.GetValueOrDefault("difference") ?? ReportItem.Of(options, "Options side by side."),
            Evidence =
            [
                new(Reader.Management, "what it costs, and where the money goes", [ForManagement(study)], [ReportItem.Of(options, "Options side by side, at their present routine."), .. Figures("chance_ahead", "cost_bands", "breakdown", "what_would_turn_it")]),
                new(Reader.Line, "checks at which each is cheapest", study.Routines.IsEmpty ? [] : [$"To do with either: {string.Join("; ", study.Routines.Select(r => $"{r.Option.Label} {(r.Remark is { } why ? why : r.IsPresent ? "checked as it is now" : $"checked every {r.Timing!.Name}")}"))}. Each is the cheapest timing that reaches the requirement."],
                    study.Routines.IsEmpty ? [] : [ReportItem.Of(OwnershipPageTables.Routines(study), $"Timings of checks of each option; chosen is the cheapest that reaches the requirement. Each is tried over at most {Format.Count(RoutineSearch.MostLifetimes)} lifetimes, so its unfavourable ends lie farther out than those of the whole study.")]),
                new(Reader.Validation, "differences and what moves them", [$"To watch: a change of source is a change of a validated process. {Holds(study)} No number here replaces its qualification."],
                    [ReportItem.Of(OwnershipPageTables.ByKind(study), $"What {pair.Option.Label} costs more or less than {pair.Other.Label}, by kind of cost, discounted."), ReportItem.Of(OwnershipPageTables.Affordable(study), "What the change may cost: how much more the option may take at the start."),
                        ReportItem.Of(OwnershipPageTables.WhatIf(study), $"One input at a time at its 10th and 90th percentile: what {pair.Option.Label} then costs more or less than {pair.Other.Label}.")]),
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
        var table = ReportItem.Of(OwnershipPageTables.Sites(sweep), "Every number of sites: discounted cost over the horizon in the mean, and from 5 to 95 % of futures.");
        return Shared(cell, [.. sweep.Labels], contexts) with
        {
            Question = $"{string.Join(" or ", sweep.Labels)}: which costs least at {Format.Count(sweep.Points[0].Sites)} to {Format.Count(sweep.Points[^1].Sites)} sites?",
            Decision = $"Cheapest {lines[0].Text}",
            Answer = string.Join(" ", lines.Skip(1).Take(sweep.Points.Length).Where((_, i) => i == 0 || i == sweep.Points.Length - 1).Select(l => $"{l.Label.Trim()}: {l.Text}.")),
            LargestAssumption = Assumption.Of("that all sites belong to one part, so that one exposure lights them all and the rate of parts stays", null, "is taken by this study, not measured",
                "were parts to grow with the sites, emitters would burn longer and every option would cost more, that with the dearer emitter by more; how much was not simulated"),
            Lines = [.. lines.Select(l => l.Tone == AnswerTone.Met ? l with { Tone = AnswerTone.Plain } : l)],
            Decisive = figures.Values.FirstOrDefault() ?? table,
            Evidence = [new(Reader.Management, "by number of sites", [], figures.Count > 0 ? [table] : [])],
        };
    }

    private static string ForManagement(OwnershipResult study)
    {
        var pair = study.Pair;
        return pair.Even == 1.0 ? "To decide: nothing, the options cost the same in every future."
            : $"To decide: {pair.Option.Label} may take up to {OwnershipWords.Money(pair.AffordableAt50, study.Currency)} more at the start than {pair.Other.Label} for even odds of being ahead after {study.Years} years, "
                + $"up to {OwnershipWords.Money(pair.AffordableAt90, study.Currency)} for odds of nine in ten; it takes {OwnershipWords.Money(pair.ExtraAtStart, study.Currency)}.";
    }

    private static string Holds(OwnershipResult study) => string.Join(" ", study.Present.Options.Select(o => o.HoldsWindow switch
    {
        true => $"{o.Label} holds the window in the simulation.",
        false => $"{o.Label} does not hold the window in the simulation.",
        _ => $"Whether {o.Label} holds the window is not known.",
    }));

    // The input that moves the difference most between its 10th and its 90th percentile.
    private static string LargestAssumption(OwnershipResult study, IReadOnlyList<RunContext> contexts)
    {
        if (study.WhatIf.Rows.FirstOrDefault(r => r.Swing > 0.0) is not { } most)
        {
            return Assumption.Of("that every price and every input is known exactly", null, "is what the scenarios say", "how far the decision moves with them was not simulated; write what is not known as a distribution");
        }

        var owners = study.Present.Options.Select((o, i) => (o.Label, Input: i < contexts.Count ? contexts[i].Inputs.FirstOrDefault(r => r.Path == most.Path) : null))
            .Where(x => x.Input is not null && most.Options.Split(" and ").Contains(x.Label)).ToArray();
        string turns = most.Worst(most.Physical ? study.WhatIf.Smaller : study.WhatIf.Decision) switch
        {
            Studies.Ownership.Outcome.Other => "which turns the decision",
            Studies.Ownership.Outcome.Open => "which leaves the decision open",
            _ => "which does not turn the decision",
        };
        string wrong = $"{OwnershipAnswer.Ends(most, study)}, {turns}";
        string name = $"{OwnershipWords.Input(most.Path)} for {most.Options}", mean = OwnershipWords.ValueOf(most, most.Mean, study);
        return owners.Length > 0 ? Assumption.Of(name, $"{mean} in the mean", Assumption.Whose(owners[0].Input!.Origin), wrong) : Assumption.Of(name, $"{mean} in the mean", "is taken from the scenarios", wrong);
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
