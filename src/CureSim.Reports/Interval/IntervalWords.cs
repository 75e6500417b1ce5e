using CureSim.Core.Cell;
using CureSim.Reports.Runs;
using CureSim.Reports.Text;
using CureSim.Studies.Interval;

namespace CureSim.Reports.Interval;

/// <summary>Candidates and verdicts in words.</summary>
internal static class IntervalWords
{
    /// <summary>"1 week (75 h)"; the name alone when it is a number of hours already.</summary>
    public static string Timing(CandidateRun run) => Timing(run.Timing, run.IntervalHours);

    /// <summary>The same of a timing.</summary>
    public static string Timing(CheckTiming timing, double hours)
    {
        string shown = Format.Value(hours, "h", 4), name = timing.Name;
        return name.EndsWith(" h", StringComparison.Ordinal) ? name : $"{name} ({shown})";
    }

    /// <summary>A figure of a candidate with interval and band.</summary>
    public static string Figure(CandidateRun run, string id) => run.Find(id) is { } figure ? FigureText.Of(figure) : "not given";

    /// <summary>What is required, in words.</summary>
    public static string Required(IntervalStudy study) =>
        $"at least {Format.PerCent(study.ReliabilityTarget)} of checks in tolerance as found"
        + (study.NonconformingLimit is { } limit ? $", at most {Format.PartsPerMillion(limit)} nonconforming" : "");

    /// <summary>What a candidate reaches at the unfavourable end, in words.</summary>
    public static string Reached(CandidateVerdict verdict, IntervalStudy study)
    {
        string ppm = study.NonconformingLimit is null ? "" : verdict.Ppm is { } p ? $", {Format.Value(p, "ppm", 3)}" : ", ppm cannot be said with so few lifetimes";
        return $"{Format.Value(100.0 * verdict.Reliability, "%", 4)}{ppm} at the unfavourable end";
    }

    /// <summary>Which longer candidates reach the requirement again without being taken, and why; null when none does.</summary>
    public static string? Again(IntervalResult study)
    {
        string[] again = [.. study.Candidates.Where(c => c.IsBeyondMiss).Select(c => c.Run.Timing.Name)];
        return again.Length == 0 ? null
            : $"{string.Join(" and ", again)} {(again.Length == 1 ? "reaches" : "reach")} it again only by when the checks fall (soon after a replacement), past intervals that miss it: not taken";
    }

    /// <summary>What of it is missed.</summary>
    public static string Missed(CandidateVerdict verdict) => verdict.IsBeyondMiss ? "what is required at a shorter interval" : (verdict.MeetsReliability, verdict.MeetsLimit) switch
    {
        (false, false) => "the in-tolerance target and the limit on nonconforming parts",
        (false, true) => "the in-tolerance target",
        (true, false) => "the limit on nonconforming parts",
        _ => "nothing",
    };
}
