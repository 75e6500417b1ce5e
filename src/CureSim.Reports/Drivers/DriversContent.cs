using CureSim.Reports.Pages;
using CureSim.Reports.Runs;
using CureSim.Reports.Text;
using CureSim.Studies.Drivers;

namespace CureSim.Reports.Drivers;

/// <summary>What the report of a drivers study says.</summary>
public static class DriversContent
{
    /// <summary>The content.</summary>
    /// <param name="study">The study.</param>
    /// <param name="context">The scenario's texts.</param>
    /// <param name="plots">False: without pictures.</param>
    public static ReportContent Of(DriversResult study, RunContext context, bool plots)
    {
        ArgumentNullException.ThrowIfNull(study);
        ArgumentNullException.ThrowIfNull(context);
        var lines = DriversAnswer.Of(study);
        var figures = plots ? CommonTexts.Items(DriversPlots.Of(study), Caption) : [];
        var tables = DriversTables.Of(study).ToDictionary(t => t.Name);
        ReportItem[] Table(string name, string caption, Func<string, bool> shows) => tables.TryGetValue(name, out var t) && t.Rows.Count > 0
            ? [ReportItem.Of(PageTable.Of(t, true, [.. t.Columns.Select(c => c.Header).Where(shows)]).Said("Input", x => PlainText.Capital(DriversWords.Name(x))), caption)] : [];
        ReportItem[] changes = Table("what_if", "Every change over the same lifetimes.", h => h is "input" or "level" or "change" || h.StartsWith("ppk", StringComparison.Ordinal));
        var best = study.WhatIf.Halved.FirstOrDefault(r => r.Changes[0].Value is not null);
        bool seen = best?.Changes[0].Lower95 > 0.0;
        var common = CommonTexts.Base("drivers", study.Scenario, context);
        return common with
        {
            Question = "Which input makes the cell spread, and what would halving each gain?",
            Decision = seen ? PlainText.Capital(DriversWords.Deed(best!.Variant)) : "No single spread, halved, is seen to help",
            Answer = PlainText.Capital(DriversAnswer.Sentence(study)) + ".",
            HowSure = "Brackets: 95 % Monte-Carlo intervals, of changes over the same lifetimes. An importance tells what predicts, not what causes.",
            LargestAssumption = LargestAssumption(study, context),
            Lines = [.. lines.Select(l => l with { Tone = AnswerTone.Plain })],
            Decisive = figures.GetValueOrDefault("what_if") ?? changes.FirstOrDefault(),
            Evidence =
            [
                new(Reader.Line, "what to improve first", [.. DriversWords.OneMean(study.WhatIf).Select(same => same.Remark)], figures.ContainsKey("what_if") ? [.. changes] : []),
                new(Reader.Validation, "where the variance comes from", [],
                [
                    .. figures.Where(f => f.Key != "what_if").Select(f => f.Value), .. Table("dose_moments", "The dose of one bond at the moments looked at.", h => h != "moment"),
                    .. Table("importance", "What predicts a cell's fate: drop of R² when an input is dealt out anew.", h => h != "answer"),
                ]),
            ],
            Method =
            [
                .. common.Method, "Every spread halved and every mean moved by its own standard deviation, one at a time, over the same lifetimes. Sobol' indices of the dose of one bond, by quantity and by level.",
                "Importance: boosted trees on the lifetimes' own draws, withheld where they explain less than half of lifetimes that they have not seen.",
            ],
            NotModelled = [.. common.NotModelled, "What halving a spread would cost, and changes of two inputs at once."],
        };
    }

    // The input that the dose of one bond hangs on most, with what halving its spread does to the answer.
    private static string LargestAssumption(DriversResult study, RunContext context)
    {
        var any = study.Indices.Moments[0];
        if (any.Indices is null || any.RankedQuantities.Where(q => !q.Group.IsTime).MaxBy(q => q.Index.Total.Value) is not { Group: { } group } top)
        {
            return Assumption.Of("that no input varies", null, "is what the scenario says", "nothing can be halved, and every spread that the cell has in truth would change the answer");
        }

        int note = group.Name.IndexOf(" (", StringComparison.Ordinal);
        string path = note < 0 ? group.Name : group.Name[..note], unknown = note < 0 ? "" : ", as far as it is unknown";
        string halved = study.WhatIf.Halved.FirstOrDefault(r => r.Variant.Input == group.Name) is { } row && row.Changes[0].Value is not null
            ? $"were its spread half as large, Ppk of {DriversWords.Response(study)} would change by {DriversWords.Signed(row.Changes[0])}" : "were its spread half as large, the order of the inputs would be another one";
        string wrong = $"{halved}; {DriversWords.Index(top.Index.Total)} of the variance of the dose hangs on it (total index{unknown})";
        return context.Inputs.FirstOrDefault(i => i.Path == path || i.Path.StartsWith(path + ".", StringComparison.Ordinal)) is { } input
            ? Assumption.Of(input, wrong) : Assumption.Of(DriversWords.Name(group.Name), null, "is taken as the scenario says", wrong);
    }

    private static string Caption(string name) => name switch
    {
        "what_if" => "What halving one spread would do to the capability, with 95 % intervals.",
        "dose_by_quantity" => "First-order and total indices of the dose of one bond, by input.",
        "dose_by_level" => "First-order and total indices of the dose of one bond, by level.",
        _ when name.StartsWith("importance", StringComparison.Ordinal) => "How much worse lifetimes are predicted when the draws of one input are dealt out anew.",
        _ => "Mean over lifetimes against one input's draw.",
    };
}
