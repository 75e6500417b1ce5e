using System.Collections.Immutable;
using CureSim.Core.Cell;
using CureSim.Core.Statistics;
using CureSim.Reports.Folders;
using CureSim.Reports.Pages;
using CureSim.Reports.Runs;
using CureSim.Reports.Text;
using CureSim.Studies.Fit;

namespace CureSim.Reports.Fit;

/// <summary>What the report of a running cell's time left says.</summary>
public static class TimeLeftContent
{
    /// <summary>The content.</summary>
    /// <param name="found">The forecast, or the origin of an excursion.</param>
    /// <param name="cell">The scenario.</param>
    /// <param name="context">Its texts.</param>
    /// <param name="log">Where the log comes from.</param>
    /// <param name="plots">False: without pictures.</param>
    public static ReportContent Of(TimeLeft found, Scenario cell, RunContext context, FitContext log, bool plots)
    {
        ArgumentNullException.ThrowIfNull(found);
        ArgumentNullException.ThrowIfNull(cell);
        ArgumentNullException.ThrowIfNull(context);
        var lines = TimeLeftFiles.Answer(found, log);
        string Line(string label) => lines.FirstOrDefault(l => l.Label == label)?.Text ?? "";
        ReportItem[] items =
        [
            .. plots && !found.Curve.IsEmpty ? [ReportItem.Of(("time_left", TimeLeftFiles.Picture(found)), "Cells still running by time from now: cells that read like this one, and all that come so far; bands: 95 % Monte-Carlo intervals at each time, by bootstrap of the simulated lifetimes.")] : (ReportItem[])[],
            .. found.Cell is not null ? [ReportItem.Of(Times(found), "Time from now within which cells must be requalified; brackets: 95 % Monte-Carlo intervals.")] : (ReportItem[])[],
            .. plots && found.Origin is { Withheld: null } start ? [ReportItem.Of(("excursion_start", TimeLeftFiles.StartPicture(start)), "How far back everything that was made out of the qualified state is held: the bracket reaches to the check before; band: 95 % Monte-Carlo interval at each time.")] : (ReportItem[])[],
            .. found.Origin is { Withheld: null } origin ? [ReportItem.Of(Causes(origin), "Chance of each cause of an excursion that reads like this one, and how long ago it began where it was this; brackets: 95 % Monte-Carlo intervals."),
                ReportItem.Of(Starts(origin), "What to hold, and when it began; brackets: 95 % Monte-Carlo intervals.")] : (ReportItem[])[],
        ];
        bool contradicts = found.Withheld is null && found.Weights.Chance < HistoryWeights.Contradiction;
        return CommonTexts.Base("time-left", cell, context) with
        {
            Question = found.Origin is null ? "How long until this running cell must be requalified, given its log so far?" : "The last check reads outside the action limit: when did that most likely begin, and why?",
            Decision = Decision(found, contradicts),
            Answer = found.Withheld is { } why ? $"Withheld: {why}."
                : found.Origin is { } o ? $"Found today: {Line("Found today")}. " + (o.Withheld is { } reason ? $"Its origin is withheld: {reason}." : $"Containment: {Line("Containment")}. Began: {Line("Began")}. Cause: {Line("Cause")}.")
                : $"Time to requalify: {Line("Time to requalify")}. The fleet: {Line("The fleet")}.",
            HowSure = found.Withheld is not null ? "Nothing is forecast, so nothing has an interval."
                : $"The 95 % interval is of the simulation: {Format.Count((long)(found.Origin is { } e ? e.Effective : found.Weights.Effective))} effective lifetimes. "
                    + (found.Origin is null ? "The 80 % range is of cells that read alike, and no number of lifetimes narrows it." : "The chances rest on how often the scenario lets each cause happen.")
                    + (TimeLeftFiles.FewWorlds(found) is { } few ? $" Intervals are {few}." : ""),
            LargestAssumption = Assumption.Of("that the scenario describes this cell and the log tells all that was done to it", null, "is taken for granted, tested by five numbers of the readings only",
                $"readings weigh what the scenario holds possible and add nothing to it, so what it leaves out would move the answer by nobody knows how much; of this log, {(Line("Log and scenario") is { Length: > 0 } told ? told.Replace(": ", ", ", StringComparison.Ordinal) : "nothing was compared")}"),
            Lines = lines,
            Decisive = items.FirstOrDefault(),
            Evidence =
            [
                .. items.Length > 1 ? [new(Reader.Line, found.Origin is null ? "when to plan the requalification" : "what to hold, and where to look", [], [.. items.Skip(1)])] : (ReportSection[])[],
                new(Reader.Validation, "how the log was read", [.. log.Notes.Select(PlainText.OneLine).Take(8)], [ReportItem.Of(FitPageTables.Columns(log), "Columns of the log.")]),
            ],
            Method =
            [
                $"{Format.Count(found.Lifetimes)} lifetimes were simulated; those that come as far as this cell ({Format.Count(found.Alive)}) are weighted by the likelihood of what was read: level, weakest site, level of the new emitter, slope and burn hours.",
                $"Where fewer than {Format.Value(HistoryWeights.LeastEffective)} effective lifetimes would be left, the readings' error is widened until they are, and times are moved by regression to where this cell stands. docs/fit.md has both, and how often such forecasts held.",
                "Every draw has an address (seed, world, lifetime, stream), so the same scenario, log, seed and version give the same numbers on any number of threads.",
            ],
            NotModelled = [.. CommonTexts.NotModelled, "What will be done otherwise from now on: the scenario's checks and replacements go on as they are."],
            Checks = [.. CommonTexts.Checks(context), "The log was read without a problem: header, units, order, size."],
            Reproduce = [.. DataFile.Reproduce(log.Copied, "log", log.Sha256)],
        };
    }

    private static string Decision(TimeLeft found, bool contradicts) =>
        found.Withheld is not null ? "No forecast"
        : found.Origin is { } o ? (o.Withheld is null && !o.Causes.IsEmpty ? $"Out of the action limit; most likely {o.Causes[0].Name}" : "Out of the action limit; origin withheld")
        : contradicts ? "The log contradicts the scenario"
        : found.Cell!.Middle.Value is { } hours ? $"Half of such cells run {Format.Hours(hours)} more" : "More than half of such cells outlast the horizon";

    private static PageTable Times(TimeLeft found)
    {
        static string Time(Estimate e) => e.Value is not { } v ? "beyond the horizon"
            : Format.Hours(v) + (e.Lower95 is null && e.Upper95 is null ? "" : $" ({(e.Lower95 is { } l ? Format.Hours(l) : "?")} to {(e.Upper95 is { } u ? Format.Hours(u) : "beyond the horizon")})");
        return PageTable.OfTexts(
            ["Cells", "One in ten within", "Half within", "Nine in ten within"],
            new[] { ("like this one", found.Cell!), ("the fleet", found.Fleet!) }.Select(w => (string[])[w.Item1, Time(w.Item2.Low), Time(w.Item2.Middle), Time(w.Item2.High)])) with { File = "tables/time_left.csv" };
    }

    private static PageTable Causes(ExcursionOrigin origin) => PageTable.OfTexts(
        ["Cause", "Chance", "Began ago, median", "80 % interval"],
        origin.Causes.Select(c => (string[])[c.Name, TimeLeftFiles.Chance(c.Chance), .. c.BeganHoursAgo is { } b ? new[] { TimeLeftFiles.Hours(b.P50), $"{TimeLeftFiles.Hours(b.P10)} to {TimeLeftFiles.Hours(b.P90)}" } : ["too few", "too few"]]))
        with { File = "tables/excursion_causes.csv" };

    private static PageTable Starts(ExcursionOrigin o) => PageTable.OfTexts(
        ["What", "Figure"],
        [
            [$"All that was made out of the qualified state was made since the check {Format.Hours(o.BracketHours)} ago", TimeLeftFiles.Chance(o.Contained)],
            ["It began since that check", TimeLeftFiles.Chance(o.SinceLastCheck)], ["It began before that check", TimeLeftFiles.Chance(o.Earlier)], ["The state is still qualified", TimeLeftFiles.Chance(o.StillQualified)],
            [$"To go back to be {Format.Value(100.0 * ExcursionOrigin.Sure, "%")} sure", TimeLeftFiles.Hours(o.SureHoursAgo)],
            .. o.BeganHoursAgo is { } b ? new string[][] { ["Began ago where it did, median", TimeLeftFiles.Hours(b.P50)], ["… 80 % interval", $"{TimeLeftFiles.Hours(b.P10)} to {TimeLeftFiles.Hours(b.P90)}"],
                ["… 90 % interval", $"{TimeLeftFiles.Hours(b.P05)} to {TimeLeftFiles.Hours(b.P95)}"], ["… rests on effective lifetimes", Format.Count((long)b.Effective)] } : [],
        ]) with { File = "tables/excursion.csv" };
}
