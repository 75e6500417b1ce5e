using System.Collections.Immutable;
using CureSim.Core.Cell;

namespace CureSim.Core.Summaries;

/// <summary>Events that are counted over time by cause, for mean cumulative functions.</summary>
public enum CountedEvent
{
    /// <summary>Requalify event: out of tolerance found.</summary>
    OutOfToleranceFound,

    /// <summary>Requalify event: state lost.</summary>
    StateLost,

    /// <summary>Requalify event: loop saturated.</summary>
    LoopSaturated,

    /// <summary>Requalify event: emitter replaced.</summary>
    EmitterReplaced,

    /// <summary>Requalify event: guide replaced.</summary>
    GuideReplaced,

    /// <summary>Requalify event: state left.</summary>
    StateLeft,

    /// <summary>Excursion started.</summary>
    Excursion,

    /// <summary>Emitter replaced as planned.</summary>
    EmitterPlanned,

    /// <summary>Emitter failed.</summary>
    EmitterFailed,

    /// <summary>Emitter replaced when short.</summary>
    EmitterShort,

    /// <summary>Guide replaced as planned or when short.</summary>
    GuideChanged,

    /// <summary>Disturbance arrived or introduced.</summary>
    Disturbance,
}

/// <summary>One response that is summarised, with its bins.</summary>
/// <param name="Response">Which.</param>
/// <param name="Centre">Value about which power sums are taken, SI.</param>
/// <param name="Bins">Fine bins (of 1 − X for the degree of cure).</param>
/// <param name="FanBins">Coarse bins for percentiles over time.</param>
public sealed record ResponseLayout(Response Response, double Centre, LogBins Bins, LogBins FanBins);

/// <summary>Shape of a summary; equal for all pieces of a run.</summary>
/// <param name="Responses">Responses summarised, dose first.</param>
/// <param name="SiteCount">Sites.</param>
/// <param name="BinEndSteps">First step after each time bin, increasing; the last is the step count. At most 256.</param>
/// <param name="BinEndsOnCheck">True for bins whose last step ends with a scheduled check.</param>
public sealed record SummaryLayout(ImmutableArray<ResponseLayout> Responses, int SiteCount, ImmutableArray<int> BinEndSteps, ImmutableArray<bool> BinEndsOnCheck)
{
    /// <summary>Lowest state index with a bin of its own.</summary>
    public const double IndexLow = -3.0;

    /// <summary>Width of a state index bin.</summary>
    public const double IndexWidth = 0.005;

    /// <summary>Bins of the state index; −3 … 4, with one slot below and one above.</summary>
    public const int IndexBins = 1400;

    /// <summary>Number of time bins.</summary>
    public int BinCount => BinEndSteps.Length;

    /// <summary>Slot of a state index.</summary>
    public static int IndexSlot(double index) =>
        !(index >= IndexLow) ? 0 : 1 + (int)Math.Min(IndexBins, (index - IndexLow) / IndexWidth);

    /// <summary>The state index below which a proportion p of the counts lies; −∞ or +∞ when it lies outside the bins; NaN without counts.</summary>
    public static double IndexQuantile(ReadOnlySpan<int> slots, double p)
    {
        long total = 0;
        foreach (int c in slots)
        {
            total += c;
        }

        if (total == 0)
        {
            return double.NaN;
        }

        double want = p * total, seen = slots[0];
        if (want <= seen && slots[0] > 0)
        {
            return double.NegativeInfinity;
        }

        for (int i = 1; i <= IndexBins; i++)
        {
            if (slots[i] > 0 && seen + slots[i] >= want)
            {
                return IndexLow + (IndexWidth * (i - 1 + Math.Clamp((want - seen) / slots[i], 0.0, 1.0)));
            }

            seen += slots[i];
        }

        return double.PositiveInfinity;
    }
}
