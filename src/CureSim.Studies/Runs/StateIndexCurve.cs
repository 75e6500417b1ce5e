using System.Collections.Immutable;
using CureSim.Core.Statistics;
using CureSim.Core.Summaries;

namespace CureSim.Studies.Runs;

/// <summary>A percentile over cells of the state index by time bin, with its 95 % interval at each.</summary>
/// <remarks>
/// Of the bins only the counts of all lifetimes together are kept, so the interval is that of a percentile read off a sample: the score interval of its proportion, carried to the index
/// by the sample's own distribution (Woodruff, J. Am. Stat. Assoc. 47 (1952) 635; Wilson, ibid. 22 (1927) 209). Lifetimes of one world are independent; where they share out strata the interval is
/// wider than need be. Lifetimes of one of several worlds share what is unknown: their number is divided by a design effect (Kish, Survey Sampling, 1965, from memory), the larger of
/// those that the intervals between worlds show at start, before a check and at the end.
/// </remarks>
public static class StateIndexCurve
{
    private const double Z = 1.9599639845400542;
    private static readonly string[] Moments = ["start", "before_check", "end"]; // in the order of CellSummary.IndexAt

    /// <summary>One estimate a time bin.</summary>
    /// <param name="run">The run.</param>
    /// <param name="percent">5 or 50.</param>
    /// <returns>Withheld where the index lies outside its scale; without interval where the run is too small for one, or an end of it lies outside the scale.</returns>
    public static ImmutableArray<Estimate> Of(RunAnalysis run, int percent)
    {
        ArgumentNullException.ThrowIfNull(run);
        double p = percent / 100.0;
        double? effect = run.Result.UnitsAreWorlds ? DesignEffect(run, percent) : 1.0;
        return [.. run.Whole.Summary.IndexByBin!.Select(slots => At(slots, p, effect))];
    }

    /// <summary>The percentile of counts in slots of the state index, with its interval.</summary>
    /// <param name="slots">Counts, as <see cref="SummaryLayout.IndexSlot"/> sorts them.</param>
    /// <param name="p">Probability, 0 to 1.</param>
    /// <param name="effect">What the number of lifetimes is divided by; null: no interval.</param>
    public static Estimate At(ReadOnlySpan<int> slots, double p, double? effect)
    {
        double value = SummaryLayout.IndexQuantile(slots, p);
        long n = 0;
        foreach (int count in slots)
        {
            n += count;
        }

        if (!double.IsFinite(value))
        {
            return Estimate.Withhold("outside the scale of the index", n);
        }

        var (low, high) = effect is { } e ? Ends(p, n / e) : (0.0, 1.0);
        double lower = SummaryLayout.IndexQuantile(slots, low), upper = SummaryLayout.IndexQuantile(slots, high);

        // An end that rests on less than one lifetime is none.
        bool rests = effect is not null && low * n >= 1.0 && (1.0 - high) * n >= 1.0 && double.IsFinite(lower) && double.IsFinite(upper);
        return rests ? Estimate.Bounded(value, null, lower, upper, n) : Estimate.Bounded(value, null, null, null, n);
    }

    // Score interval of a proportion seen in n of them.
    private static (double Low, double High) Ends(double p, double n)
    {
        double z2 = Z * Z, centre = (p + (z2 / (2.0 * n))) / (1.0 + (z2 / n)), half = Z / (1.0 + (z2 / n)) * Math.Sqrt((p * (1.0 - p) / n) + (z2 / (4.0 * n * n)));
        return (Math.Max(0.0, centre - half), Math.Min(1.0, centre + half));
    }

    private static double? DesignEffect(RunAnalysis run, int percent)
    {
        double? largest = null;
        for (int m = 0; m < Moments.Length; m++)
        {
            if (run.Find($"state_index_{Moments[m]}_p{percent:00}")?.Estimate.HalfWidth95 is { } honest
                && At(run.Whole.Summary.IndexAt[m], percent / 100.0, 1.0).HalfWidth95 is > 0.0 and var independent)
            {
                largest = Math.Max(largest ?? 1.0, honest / independent * (honest / independent));
            }
        }

        return largest;
    }
}
