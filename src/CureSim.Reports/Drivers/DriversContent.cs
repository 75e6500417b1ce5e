using CureSim.Reports.Pages;
using CureSim.Reports.Runs;
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
        ReportItem[] Table(string name, string caption) => tables.TryGetValue(name, out var t) && t.Rows.Count > 0
            ? [ReportItem.Of(PageTable.Of(t, true, [.. t.Columns.Select(c => c.Header).Where(h => name != "what_if" || h is "input" or "level" or "change" || h.StartsWith("ppk", StringComparison.Ordinal))]), caption)] : [];
        var best = study.WhatIf.Halved.FirstOrDefault(r => r.Changes[0].Value is not null);
        bool seen = best?.Changes[0].Lower95 > 0.0;
        var common = CommonTexts.Base("drivers", study.Scenario, context);
        string top = study.Indices.Moments[0] is { Indices: not null } any ? any.RankedQuantities.Where(q => !q.Group.IsTime).OrderByDescending(q => q.Index.Total.Value).Select(q => $"{q.Group.Name}, total index {DriversWords.Index(q.Index.Total)} of the variance of the dose"
            + (context.Inputs.FirstOrDefault(i => i.Path == q.Group.Name) is { } input ? $" ({(input.Origin == "yours" ? "your own" : input.Origin)} input)" : "")).FirstOrDefault() ?? "" : "";
        return common with
        {
            Question = "Which input makes the cell spread, and what would halving each gain?",
            Decision = seen ? char.ToUpperInvariant(DriversWords.Deed(best!.Variant)[0]) + DriversWords.Deed(best.Variant)[1..] : "No single spread, halved, is seen to help",
            Answer = Sentence(DriversAnswer.Sentence(study)),
            HowSure = "Brackets: 95 % Monte-Carlo intervals, of changes over the same lifetimes. An importance tells what predicts, not what causes.",
            LargestAssumption = top.Length > 0 ? $"The spread given to {top}." : "No input varies.",
            Lines = [.. lines.Select(l => l with { Tone = AnswerTone.Plain })],
            Decisive = figures.GetValueOrDefault("what_if") ?? Table("what_if", "Every change over the same lifetimes.").FirstOrDefault(),
            Evidence =
            [
                new(Reader.Line, "what to improve first", [], figures.ContainsKey("what_if") ? [.. Table("what_if", "Every change over the same lifetimes.")] : []),
                new(Reader.Validation, "where the variance comes from", [],
                    [.. figures.Where(f => f.Key != "what_if").Select(f => f.Value), .. Table("dose_moments", "The dose of one bond at the moments looked at."), .. Table("importance", "What predicts a cell's fate: drop of R² when an input is dealt out anew.")]),
            ],
            Method =
            [
                .. common.Method, "Every spread halved and every mean moved by its own standard deviation, one at a time, over the same lifetimes. Sobol' indices of the dose of one bond, by quantity and by level.",
                "Importance: boosted trees on the lifetimes' own draws, withheld where they explain less than half of lifetimes that they have not seen.",
            ],
            NotModelled = [.. common.NotModelled, "What halving a spread would cost, and changes of two inputs at once."],
        };
    }

    private static string Sentence(string text) => char.ToUpperInvariant(text[0]) + text[1..] + ".";

    private static string Caption(string name) => name switch
    {
        "what_if" => "What halving one spread would do to the capability, with 95 % intervals.",
        "dose_by_quantity" => "First-order and total indices of the dose of one bond, by input.",
        "dose_by_level" => "First-order and total indices of the dose of one bond, by level.",
        _ when name.StartsWith("importance", StringComparison.Ordinal) => "How much worse lifetimes are predicted when the draws of one input are dealt out anew.",
        _ => "Mean over lifetimes against one input's draw.",
    };
}
