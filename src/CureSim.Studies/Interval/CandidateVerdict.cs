using System.Collections.Immutable;
using CureSim.Core.Cell;
using CureSim.Studies.Runs;

namespace CureSim.Studies.Interval;

/// <summary>Whether a candidate meets what is required, at the unfavourable end of what is known of it.</summary>
/// <param name="Run">The candidate.</param>
/// <param name="Reliability">Proportion of checks that find the cell in tolerance, at its lower end: the lower 95 % limit or the lower end of the band over worlds, whichever is lower.</param>
/// <param name="Ppm">Nonconforming parts at their upper end, ppm; null when the lifetimes simulated cannot say.</param>
/// <param name="MeetsReliability">True when the target is reached.</param>
/// <param name="MeetsLimit">True when the limit on nonconforming parts is kept (or none is stated).</param>
/// <param name="Shortfall">How far it is from meeting all: 0 when it does; distances are relative, so that the nearest miss can be told.</param>
/// <param name="BeyondAction">Share of checks that find the cell beyond the action limit.</param>
public sealed record CandidateVerdict(CandidateRun Run, double Reliability, double? Ppm, bool MeetsReliability, bool MeetsLimit, double Shortfall, double BeyondAction)
{
    /// <summary>
    /// True when a calendar interval no longer than this one already misses what a still shorter one meets. A check soon after a replacement finds little lost, however
    /// long nobody looked before: such an interval shows when its checks fall, not that the cell was held in between.
    /// </summary>
    public bool IsBeyondMiss { get; init; }

    /// <summary>True when everything that is required is met, and not again beyond intervals that miss it.</summary>
    public bool Meets => MeetsReliability && MeetsLimit && !IsBeyondMiss;

    /// <summary>True when most checks find the cell beyond the action limit: the routine does not hold it.</summary>
    public bool MostOutside => BeyondAction > 0.5;

    /// <summary>The verdict on a candidate.</summary>
    public static CandidateVerdict Of(CandidateRun run, IntervalStudy study)
    {
        ArgumentNullException.ThrowIfNull(run);
        ArgumentNullException.ThrowIfNull(study);
        double reliability = (Least(run.Find(IntervalMeasures.InTolerance)) ?? 0.0) / 100.0;
        double? ppm = Most(run.Find(IntervalMeasures.Ppm));
        bool holds = reliability >= study.ReliabilityTarget;
        bool kept = study.NonconformingLimit is not { } limit || ppm <= 1e6 * limit;
        double shortfall = Math.Max(0.0, (study.ReliabilityTarget - reliability) / (1.0 - study.ReliabilityTarget));
        if (study.NonconformingLimit is { } allowed)
        {
            shortfall = Math.Max(shortfall, ppm is { } p ? Math.Max(0.0, Math.Log(p / (1e6 * allowed))) : 10.0);
        }

        return new(run, reliability, ppm, holds, kept, shortfall, (run.Find("found_beyond_action_percent")?.Estimate.Value ?? 0.0) / 100.0);
    }

    /// <summary>The same verdicts, with those marked that meet the requirement only beyond a calendar interval that misses it.</summary>
    /// <remarks>Calendar intervals alone tell where the gap is. One whose parts are withheld for lack of lifetimes is no miss: nothing is known of it.</remarks>
    public static ImmutableArray<CandidateVerdict> Marked(IReadOnlyList<CandidateVerdict> candidates)
    {
        ArgumentNullException.ThrowIfNull(candidates);
        bool met = false, missed = false;
        int from = int.MaxValue;
        foreach (var candidate in candidates.Where(c => c.Run.Timing.IsPlain).OrderBy(c => c.Run.Timing.IntervalSteps))
        {
            if (candidate.Meets && missed)
            {
                from = candidate.Run.Timing.IntervalSteps;
                break;
            }

            met |= candidate.Meets;
            missed |= met && (!candidate.MeetsReliability || (!candidate.MeetsLimit && candidate.Ppm is not null));
        }

        return [.. candidates.Select(c => c.Meets && c.Run.Timing.IntervalSteps >= from ? c with { IsBeyondMiss = true } : c)];
    }

    private static double? Least(KeyFigure? figure) => Extreme(figure, figure?.Estimate.Lower95, figure?.Band?.Lower05, Math.Min);

    private static double? Most(KeyFigure? figure) => Extreme(figure, figure?.Estimate.Upper95, figure?.Band?.Upper95, Math.Max);

    private static double? Extreme(KeyFigure? figure, double? limit, double? band, Func<double, double, double> worse)
    {
        double? end = limit ?? figure?.Estimate.Value;
        return band is { } b ? end is { } e ? worse(e, b) : b : end;
    }
}
