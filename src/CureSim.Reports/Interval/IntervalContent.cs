using System.Collections.Immutable;
using CureSim.Reports.Pages;
using CureSim.Reports.Runs;
using CureSim.Reports.Text;
using CureSim.Studies.Interval;

namespace CureSim.Reports.Interval;

/// <summary>What the report of an interval study says.</summary>
public static class IntervalContent
{
    /// <summary>The content.</summary>
    /// <param name="study">The study.</param>
    /// <param name="context">The scenario's texts.</param>
    /// <param name="plots">False: without pictures.</param>
    public static ReportContent Of(IntervalResult study, RunContext context, bool plots)
    {
        ArgumentNullException.ThrowIfNull(study);
        ArgumentNullException.ThrowIfNull(context);
        var cell = study.Scenario;
        var basis = TypicalBasis.Of(context.Inputs, cell.Run.Worlds);
        var figures = plots ? IntervalPlots.Of(study).Select(f => (f.Name, Item: ReportItem.Of(f, Caption(f.Name)))).ToList() : [];

        // The picture of what decides: where a limit on nonconforming parts turns candidates down that are in tolerance, it is that limit.
        bool byParts = study.Candidates.Any(c => c.MeetsReliability && !c.MeetsLimit) || (study.Study.NonconformingLimit is not null && study.Longest is null);
        string[] order = byParts ? ["nonconforming_by_interval", "reliability_by_interval"] : ["reliability_by_interval", "nonconforming_by_interval"];
        var decisive = order.Select(n => figures.FirstOrDefault(f => f.Name == n).Item).FirstOrDefault(i => i is not null);
        var judgement = basis.Judge(study.Longest is not null);
        var lines = IntervalAnswer.Of(study);
        ImmutableArray<ReportItem> Figures(params string[] names) => [.. figures.Where(f => names.Contains(f.Name)).Select(f => f.Item)];
        string required = IntervalWords.Required(study.Study);
        return new()
        {
            Command = "interval",
            Title = cell.Name,
            Question = $"How often must the output be checked? Required: {required}.",
            Judgement = judgement,
            Decision = study.Longest is { } longest
                ? $"{(judgement == Judgement.Provisional ? "Provisional: check" : "Check")} every {IntervalWords.Timing(longest.Run)}"
                : "None of the candidates reaches the requirement",
            Answer = Answer(study),
            HowSure = "A recommendation holds at the unfavourable end of the 95 % Monte-Carlo interval" + (cell.Run.Worlds > 1 ? " and of the 5 to 95 % band over worlds." : ". Nothing is declared unknown, so no band shows how far the inputs may be off."),
            LargestAssumption = LargestAssumption(study, context),
            Lines = judgement == Judgement.Provisional ? [.. lines.Select(l => l.Tone == AnswerTone.Met ? l with { Tone = AnswerTone.Plain } : l)] : [.. lines],
            Decisive = decisive ?? ReportItem.Of(Candidates(study), "Every candidate, with 95 % Monte-Carlo intervals."),
            Evidence =
            [
                new(Reader.Line, "which interval, which limits, what goes unseen", [.. ForLine(study)],
                [
                    .. decisive is null ? [] : (ReportItem[])[ReportItem.Of(Candidates(study), "Every candidate, with 95 % Monte-Carlo intervals.")],
                    .. Figures([.. order]).Where(f => f != decisive),
                    .. Figures("unseen_time", "parts_at_risk", "interval_by_adjust_limit", "interval_by_action_limit"),
                ]),
                new(Reader.Management, "what checking, and not checking, costs", study.Scenario.Costs is null ? ["The scenario gives no prices (block costs), so nothing is said about money."] : [.. ForManagement(study)],
                    [.. Figures("cost_by_interval")]),
                new(Reader.Validation, "what binds, and who would see a fault", [ForValidation(study), .. study.Detection is null ? [] : IntervalPageTables.Absent(study.Detection)],
                [
                    .. study.Binding is null ? [] : (ReportItem[])[ReportItem.Of(IntervalPageTables.Contributors(study.Binding), $"One contributor perfect at a time, with checks every {IntervalWords.Timing(study.Binding.Base.Run)}: what limits the interval that is next in line. Changes are paired.")],
                    .. study.Detection is null || study.Detection.Rows.IsEmpty ? []
                        : (ReportItem[])[ReportItem.Of(IntervalPageTables.Detection(study.Detection), "Detection matrix: chance that a control sees a fault (95 % interval), and how long after it came to matter. It feeds the FMEA of your plant.")],
                ]),
            ],
            Inputs = [new(cell.Name, context.Sha256, context.Inputs)],
            Basis = basis.Words,
            Method =
            [
                .. CommonTexts.Method(cell),
                "All candidates run over the same lifetimes (common random numbers): a draw does not depend on when somebody looks.",
                "As-found in-tolerance proportion: checks that find the cell inside the tolerance, before anything is adjusted (end-of-period reliability).",
                "Nonconforming parts: mean of p(state) over judged states. Costs are not discounted. Suspect parts: made since the last check that was in order.",
                "Contributors and crossed limits run with at most 512 lifetimes a world.",
            ],
            NotModelled = [.. CommonTexts.NotModelled, "Checks between the candidates: the interval is chosen among those that were simulated. Their differences, paired, stand in tables/interval_differences.csv."],
            Checks = [.. CommonTexts.Checks(context)],
            Cautions = CommonTexts.Cautions,
            Reproduce = CommonTexts.Reproduce,
        };
    }

    private static string Answer(IntervalResult study)
    {
        string required = IntervalWords.Required(study.Study);
        string cost = study.Cheapest is { } cheapest ? $" Cheapest: every {IntervalWords.Timing(cheapest.Run)} at {IntervalWords.Figure(cheapest.Run, IntervalMeasures.Cost)}"
            + (cheapest == study.Longest ? ", the same one." : cheapest.Meets ? "." : $"; but it misses {IntervalWords.Missed(cheapest)}.") : "";
        if (study.Longest is { } longest)
        {
            return $"Of {Format.Count(study.Candidates.Length)} timings it is the longest that reaches what is required ({required}): {IntervalWords.Figure(longest.Run, IntervalMeasures.InTolerance)} in tolerance as found, "
                + $"{IntervalWords.Figure(longest.Run, IntervalMeasures.Ppm)} nonconforming.{(IntervalWords.Again(study) is { } again ? $" Note: {again}." : "")}{cost}";
        }

        var miss = study.NearestMiss!;
        return $"Required: {required}. Nearest is every {IntervalWords.Timing(miss.Run)} with {IntervalWords.Figure(miss.Run, IntervalMeasures.InTolerance)} in tolerance as found and "
            + $"{IntervalWords.Figure(miss.Run, IntervalMeasures.Ppm)} nonconforming; it misses {IntervalWords.Missed(miss)}.{cost}";
    }

    private static IEnumerable<string> ForLine(IntervalResult study)
    {
        var chosen = (study.Longest ?? study.NearestMiss)!;
        var checks = study.Scenario.Checks!;
        string unseen = IntervalWords.Figure(chosen.Run, "unseen_out_hours_per_year"), suspect = chosen.Run.Find("suspect_parts_per_year") is { } parts ? FigureText.Of(parts.Estimate) : "not given";
        yield return study.Longest is null ? $"To do: no interval among the candidates reaches what is required, so an interval alone will not; the nearest is every {IntervalWords.Timing(chosen.Run)}. What else would help stands under what binds."
            : $"To do: check every {IntervalWords.Timing(chosen.Run)}, set again beyond ±{Format.PerCent(checks.AdjustLimit)}, look for causes beyond ±{Format.PerCent(checks.ActionLimit)}.";
        if (Rises(study) is { } rise)
        {
            yield return $"To understand: every {rise.Long.Timing.Name} more checks find the cell in tolerance than every {rise.Short.Timing.Name}. A replacement sets the output anew, and a check that falls soon after one finds little lost; what was made in between shows in the other columns.";
        }

        yield return $"To expect then: {unseen} out of the qualified state before anybody knows, and {suspect} suspect parts a year to sort.";
    }

    // The longer of two calendar intervals finds more in tolerance, told apart by their intervals: the reader is owed a reason.
    private static (CandidateRun Short, CandidateRun Long)? Rises(IntervalResult study)
    {
        CandidateRun[] plain = [.. study.Candidates.Select(c => c.Run).Where(r => r.Timing.IsPlain).OrderBy(r => r.IntervalHours)];
        for (int i = 1; i < plain.Length; i++)
        {
            if (plain[i].Find(IntervalMeasures.InTolerance)?.Estimate.Lower95 > plain[i - 1].Find(IntervalMeasures.InTolerance)?.Estimate.Upper95)
            {
                return (plain[i - 1], plain[i]);
            }
        }

        return null;
    }

    private static IEnumerable<string> ForManagement(IntervalResult study)
    {
        if (study.Cheapest is not { } cheapest)
        {
            yield break;
        }

        yield return study.Longest is not { } longest ? $"To decide: the cheapest candidate, every {IntervalWords.Timing(cheapest.Run)} at {IntervalWords.Figure(cheapest.Run, IntervalMeasures.Cost)}, misses {IntervalWords.Missed(cheapest)}, and so does every other: money alone cannot decide."
            : longest == cheapest ? $"To decide: nothing. Every {IntervalWords.Timing(cheapest.Run)} is both the cheapest candidate, at {IntervalWords.Figure(cheapest.Run, IntervalMeasures.Cost)}, and the one that is recommended."
            : $"To decide: whether {FigureText.Of(cheapest.Run.Difference(longest.Run, IntervalMeasures.Cost), study.Scenario.Costs!.Currency + "/yr")} more is worth checks every {IntervalWords.Timing(longest.Run)} instead of the cheapest, every {IntervalWords.Timing(cheapest.Run)}"
                + (cheapest.Meets ? "; both reach what is required." : $", which misses {IntervalWords.Missed(cheapest)}.");
    }

    private static string ForValidation(IntervalResult study) => study.Longest is { } longest
        ? $"To justify an interval of {IntervalWords.Timing(longest.Run)}: {IntervalWords.Figure(longest.Run, IntervalMeasures.InTolerance)} of checks find the cell in tolerance, against {Format.PerCent(study.Study.ReliabilityTarget)} required. Compare this with your own as-found readings over a year before it is extended."
        : "No interval of these can be justified by the requirement.";

    // One contributor perfect at a time says what limits the interval; the input behind it that spreads most stands for it.
    private static string LargestAssumption(IntervalResult study, RunContext context)
    {
        var cell = study.Scenario;
        if (study.Binding is not { } binding)
        {
            return WeightiestInput.Of(cell, context, _ => true) is { } any
                ? Assumption.Of(any, "were it larger, checks would have to be closer; how much was not asked for, as only candidates were simulated")
                : Assumption.Of("that no input varies", null, "is what the scenario says", "every spread that the cell has in truth calls for closer checks");
        }

        string at = $"checks every {IntervalWords.Timing(binding.Timing, binding.Base.Run.IntervalHours)}";
        if (binding.Limiting is not { } limiting)
        {
            return WeightiestInput.Of(cell, context, _ => true) is { } most
                ? Assumption.Of(most, $"no single input limits the interval; were this one larger, {at} would find fewer cells in tolerance and leave more parts nonconforming")
                : Assumption.Of("no single input", null, "limits the interval", "with any one of them perfect the next interval comes no nearer");
        }

        // Told in what the requirement is about, where both figures are given.
        string Figure(string id) => $"{IntervalWords.Figure(limiting.Run, id)} {(id == IntervalMeasures.Ppm ? "nonconforming" : "in tolerance")} instead of {IntervalWords.Figure(binding.Base.Run, id)}";
        bool Has(string id) => limiting.Run.Find(id)?.Estimate.Value is not null && binding.Base.Run.Find(id)?.Estimate.Value is not null;
        bool parts = study.Study.NonconformingLimit is not null && (binding.Base.MeetsReliability || !binding.Base.MeetsLimit);
        string with = $"with {limiting.Contributor.Name}, {at}";
        string size = parts && Has(IntervalMeasures.Ppm) ? $"{with} would leave {Figure(IntervalMeasures.Ppm)}"
            : Has(IntervalMeasures.InTolerance) ? $"{with} would find {Figure(IntervalMeasures.InTolerance)}" : "how much is withheld, for lack of lifetimes";

        // Of the effect, not of the number: a longer time constant or a smaller rate is milder, and a mean may work either way.
        string wrong = $"were its effect smaller than that, a longer interval might do, were it larger, checks must be closer; {size}";
        return limiting.Contributor.Id == "disturbances" && cell.Disturbances.Length > 1
            ? Assumption.Of($"rates and sizes of the {Format.Count(cell.Disturbances.Length)} disturbances", null, "are taken as the scenario says", wrong.Replace("its effect", "their effect", StringComparison.Ordinal).Replace("were it larger", "were they larger", StringComparison.Ordinal))
            : WeightiestInput.Of(cell, context, i => IsBehind(limiting.Contributor.Id, i)) is { } input ? Assumption.Of(input, wrong)
            : Assumption.Of(limiting.Contributor.Limits, null, "is taken as the scenario says", wrong);
    }

    // Irradiance of a new emitter is set by a reading and stays when the emitter is perfect: it is not behind "emitter".
    private static bool IsBehind(string contributor, InputRow input) => contributor switch
    {
        "emitter" => new[] { "source.ageing", "source.wander", "source.failure", "source.band_ageing" }.Any(p => input.Path.StartsWith(p, StringComparison.Ordinal)),
        "sensor" => input.Path.StartsWith("loop.sensor", StringComparison.Ordinal),
        "fouling" => input.Path.StartsWith("tip.", StringComparison.Ordinal),
        "fixture" => input.Path.StartsWith("fixture.", StringComparison.Ordinal) && input.Path.EndsWith(".setup", StringComparison.Ordinal),
        "lots" => input.Path is "substrate.absorption" or "cure.rate.lot",
        "parts" => input.Level == "part",
        _ => input.Path.StartsWith(contributor + ".", StringComparison.Ordinal),
    };

    private static PageTable Candidates(IntervalResult study)
    {
        (string Id, string Heading)[] shown =
        [
            (IntervalMeasures.InTolerance, "In tolerance as found"), (IntervalMeasures.Ppm, "Nonconforming parts"), ("unseen_out_hours_per_year", "Unqualified, unseen"),
            ("suspect_parts_per_year", "Suspect parts"), (IntervalMeasures.Cost, "Cost"),
        ];
        shown = [.. shown.Where(s => study.Candidates.Any(c => c.Run.Find(s.Id) is not null))];
        return PageTable.OfTexts(
            ["Check every", .. shown.Select(s => s.Heading), "Requirement"],
            study.Candidates.Select(c => (string[])[IntervalWords.Timing(c.Run), .. shown.Select(s => IntervalWords.Figure(c.Run, s.Id)), c.Meets ? "reached" : "misses " + IntervalWords.Missed(c)])) with { File = "tables/intervals.csv" };
    }

    private static string Caption(string name) => name switch
    {
        "cost_by_interval" => "Cost a year by part, against the interval: where the sum is lowest.",
        "reliability_by_interval" => "Checks that find the cell in tolerance, against the interval, with 95 % intervals and the target.",
        "nonconforming_by_interval" => "Nonconforming parts against the interval, with 95 % intervals, and the limit where there is one.",
        "parts_at_risk" => "Parts made in an excursion before it is seen.",
        "unseen_time" => "Hours a year out of the qualified state before anybody knows, on average, and what one cell in twenty exceeds.",
        "interval_by_adjust_limit" => "Nonconforming parts by interval and adjust limit.",
        "interval_by_action_limit" => "Nonconforming parts by interval and action limit.",
        _ => name.Replace('_', ' '),
    };
}
