using CureSim.Core.Statistics;
using CureSim.Reports.Runs;
using CureSim.Reports.Text;
using CureSim.Studies.Interval;

namespace CureSim.Reports.Interval;

/// <summary>The answer of the interval study in about ten lines for a terminal.</summary>
public static class IntervalAnswer
{
    /// <summary>With fewer onsets nothing can be said about who would have seen them.</summary>
    private const int LeastOnsets = 10;

    /// <summary>What was simulated.</summary>
    public static string Heading(IntervalResult study)
    {
        ArgumentNullException.ThrowIfNull(study);
        var (run, p) = (study.Scenario.Run, study.Scenario.Production);
        string worlds = run.Worlds > 1 ? $"{Format.Count(run.Worlds)} worlds × " : "";
        return $"{study.Scenario.Name}: {study.Candidates.Length} timings of checks, each over the same {worlds}{Format.Count(run.LifetimesPerWorld)} lifetimes, horizon {Format.Value(p.HorizonSeconds / p.YearSeconds)} yr, seed {run.Seed}";
    }

    /// <summary>The lines.</summary>
    public static IReadOnlyList<AnswerLine> Of(IntervalResult study)
    {
        ArgumentNullException.ThrowIfNull(study);
        var lines = new List<AnswerLine> { Recommended(study) };
        if (Cheapest(study) is { } cheapest)
        {
            lines.Add(cheapest);
        }

        if (study.Binding is { } binding)
        {
            lines.Add(new("what binds", Binds(binding, study)));
        }

        var chosen = (study.Longest ?? study.NearestMiss)!;
        lines.Add(new("unseen", $"every {chosen.Run.Timing.Name}: out of the qualified state before anybody knows {Figure(chosen, "unseen_out_hours_per_year")}; one cell in twenty exceeds {Value(chosen.Run, "unseen_out_p95_hours_per_year")}; outside the window {Value(chosen.Run, "unseen_outside_hours_per_year")}"));
        lines.Add(new("parts", $"{Figure(chosen, IntervalMeasures.Ppm)} nonconforming; {Value(chosen.Run, "suspect_parts_per_year")} suspect a year, {Value(chosen.Run, "open_at_horizon_hours")} still open at the horizon"));
        lines.Add(new("in tolerance", string.Join(", ", About(study, chosen).Select(c => $"{c.Run.Timing.Name} {Value(c.Run, IntervalMeasures.InTolerance)}"))));
        lines.AddRange(study.Grids.Select(g => Limits(g, chosen, study)).OfType<AnswerLine>());
        if (study.Candidates.Where(c => c.MostOutside).ToArray() is { Length: > 0 } lost)
        {
            lines.Add(Lost(study, lost[0]));
        }

        if (study.Detection is { } detection && Unseen(detection) is { Length: > 0 } blind)
        {
            lines.Add(new("seen by nothing", blind));
        }

        lines.Add(new("brackets", study.Scenario.Run.Worlds > 1
            ? "(…) 95 % Monte-Carlo intervals, […] 5 to 95 % of worlds; a recommendation holds at the worse of their ends"
            : "(…) 95 % Monte-Carlo intervals; a recommendation holds at their unfavourable ends"));
        return lines;
    }

    private static AnswerLine Recommended(IntervalResult study)
    {
        if (study.Longest is { } longest)
        {
            string all = study.Candidates.All(c => c.Meets) ? "; every candidate meets it, so a longer one may too" : "";
            return new("check every", $"{IntervalWords.Timing(longest.Run)}: the longest with {IntervalWords.Required(study.Study)} ({IntervalWords.Reached(longest, study.Study)}){all}{Again(study)}", AnswerTone.Met);
        }

        var miss = study.NearestMiss!;
        return new("none meets", $"{IntervalWords.Required(study.Study)}. Nearest: {IntervalWords.Timing(miss.Run)} with {IntervalWords.Reached(miss, study.Study)}; it misses {IntervalWords.Missed(miss)}", AnswerTone.Missed);
    }

    private static string Again(IntervalResult study) => IntervalWords.Again(study) is { } again ? $"; {again}" : "";

    private static AnswerLine? Cheapest(IntervalResult study)
    {
        if (study.Cheapest is not { } cheapest)
        {
            return null;
        }

        var alike = study.Candidates.Where(c => c != cheapest && cheapest.Run.Difference(c.Run, IntervalMeasures.Cost) is { Lower95: { } low, Upper95: { } high } && low <= 0.0 && high >= 0.0).ToArray();
        string even = alike.Length == 0 ? "" : $"; not told apart from {string.Join(", ", alike.Select(c => c.Run.Timing.Name))}";
        string minimum = study.CostMinimum is { Value: { } t, Lower95: { } l, Upper95: { } u } ? $"; lowest between the candidates near {Format.Interval(t, l, u, "h")}" : "";
        string agree = study.Longest is not { } longest ? "" : longest == cheapest ? "; it is the recommended one"
            : cheapest.Meets ? $"; it meets the requirement too, the recommended one costs {Extra(cheapest, longest, study)} more"
            : $"; it misses {IntervalWords.Missed(cheapest)}: meeting it costs {Extra(cheapest, longest, study)} more";
        return new("cheapest", $"{IntervalWords.Timing(cheapest.Run)}: {Figure(cheapest, IntervalMeasures.Cost)}{even}{minimum}{agree}");
    }

    private static string Extra(CandidateVerdict cheapest, CandidateVerdict longest, IntervalResult study) =>
        FigureText.Of(cheapest.Run.Difference(longest.Run, IntervalMeasures.Cost), study.Scenario.Costs!.Currency + "/yr");

    private static string Binds(Binding binding, IntervalResult study)
    {
        string at = $"every {IntervalWords.Timing(binding.Timing, binding.Base.Run.IntervalHours)}";
        if (binding.Base.Meets)
        {
            return $"nothing among the candidates, {at} included";
        }

        if (binding.Limiting is not { } limiting)
        {
            return $"{at} no single input: with any one of them perfect it comes no nearer";
        }

        string then = study.Study.NonconformingLimit is null || !binding.Base.MeetsReliability && binding.Base.MeetsLimit
            ? $"{Value(limiting, IntervalMeasures.InTolerance)} instead of {Value(binding.Base.Run, IntervalMeasures.InTolerance)} in tolerance"
            : $"{Value(limiting, IntervalMeasures.Ppm)} instead of {Value(binding.Base.Run, IntervalMeasures.Ppm)}, {Value(limiting, IntervalMeasures.InTolerance)} in tolerance";
        string verdict = limiting.Verdict.Meets ? "that would meet the requirement" : "nearer, but not enough";
        var next = binding.Effects.Skip(1).FirstOrDefault(e => e.Verdict.Shortfall < binding.Base.Shortfall - 1e-12);
        return $"{limiting.Contributor.Limits}: {at} with {limiting.Contributor.Name} {then}, {verdict}" + (next is null ? "" : $"; next {next.Contributor.Limits}");
    }

    private static string Value(ContributorEffect effect, string id) => Value(effect.Run, id);

    private static string Value(CandidateRun run, string id) => run.Find(id) is { Estimate.Value: not null } figure ? FigureText.Of(figure.Estimate, Unit(figure.Measure.Unit)) : "withheld";

    private static AnswerLine? Limits(LimitGrid grid, CandidateVerdict chosen, IntervalResult study)
    {
        int i = grid.Timings.Select((t, k) => (Gap: Math.Abs(Math.Log((double)t.IntervalSteps / chosen.Run.Timing.IntervalSteps)), k)).DefaultIfEmpty((0.0, -1)).MinBy(x => x.Item1).Item2;
        if (i < 0)
        {
            return null;
        }

        var ppm = Enumerable.Range(0, grid.Limits.Length).Select(j => (Limit: grid.Limits[j], Run: grid.At(i, j), Ppm: grid.At(i, j).Find(IntervalMeasures.Ppm)?.Estimate.Value)).Where(x => x.Ppm is not null).ToArray();
        if (ppm.Length < 2)
        {
            return null;
        }

        var best = ppm.MinBy(x => x.Ppm);
        bool IsApart((double Limit, CandidateRun Run, double? Ppm) x) => best.Run.Difference(x.Run, IntervalMeasures.Ppm) is { Lower95: > 0.0 };
        string Told((double Limit, CandidateRun Run, double? Ppm) x) => $"{Format.PerCent(x.Limit)} {Format.Value(x.Ppm!.Value, null, 3)}{(IsApart(x) ? "" : " (not told apart)")}";

        string what = grid.Crossed == CrossedLimit.Adjust ? "adjust" : "action";
        string sample = study.Scenario.Run.LifetimesPerWorld > IntervalResult.MostBeside ? $"; over {Format.Count(IntervalResult.MostBeside)} lifetimes a world, fewer than the lines above" : "";
        if (!ppm.Any(x => x != best && IsApart(x)))
        {
            return new($"{what} limit", $"every {grid.Timings[i].Name} it hardly matters: {string.Join(", ", ppm.Select(x => Format.PerCent(x.Limit)))} are not told apart, the fewest {Value(best.Run, IntervalMeasures.Ppm)} nonconforming{sample}");
        }

        return new($"{what} limit", $"every {grid.Timings[i].Name} the fewest nonconforming parts at {Format.PerCent(best.Limit)}: {Value(best.Run, IntervalMeasures.Ppm)}; {string.Join(", ", ppm.Where(x => x != best).Select(Told))}{sample}");
    }

    private static AnswerLine Lost(IntervalResult study, CandidateVerdict first)
    {
        var loss = MeanLoss.Of(study.Scenario, first.Run.IntervalHours * 3600.0).Largest;
        string from = loss.Loss > 0.0 ? $"; on average {loss.Name} takes {Format.PerCent(loss.Loss)} in an interval: {loss.Remedy}, or check more often" : ": check more often";
        return new("does not hold", $"from {IntervalWords.Timing(first.Run)} on most checks ({Format.PerCent(first.BeyondAction)}) find the cell beyond the action limit{from}", AnswerTone.Missed);
    }

    private static string Unseen(DetectionMatrix detection) => string.Join("; ", detection.Rows
        .Where(r => r.Onsets >= LeastOnsets && r.Cells.All(c => c.Chance.Value is null || c.Chance.Upper95 < 0.5))
        .Select(r => r.Fault));

    private static string Figure(CandidateVerdict candidate, string id) => IntervalWords.Figure(candidate.Run, id);

    // The recommended timing between its neighbours; the page's table has all of them.
    private static IEnumerable<CandidateVerdict> About(IntervalResult study, CandidateVerdict chosen)
    {
        int at = study.Candidates.IndexOf(chosen);
        return study.Candidates.Skip(Math.Max(0, at - 1)).Take(at > 0 ? 3 : 2);
    }

    private static string? Unit(string? unit) => unit is "1/yr" or "1" ? null : unit;
}
