using CureSim.Core.Statistics;

namespace CureSim.Studies.Capability;

/// <summary>The fraction outside the limits: counted, and under the fitted normal law.</summary>
/// <param name="Below">Values below the lower limit.</param>
/// <param name="Above">Values above the upper limit.</param>
/// <param name="ClopperPearson">Exact interval of the fraction; when nothing is outside the one-sided upper bound.</param>
/// <param name="Wilson">Score interval.</param>
/// <param name="Fitted">Fraction under the normal law with the sample's mean and standard deviation, and a one-sided upper bound; withheld when normality is refused or
/// cannot be tested.</param>
/// <remarks>
/// Upper bound of the fitted fraction: each side's exact bound (noncentral t of its index) at 1 − α/2 where there are two limits, summed (Bonferroni), so it covers
/// with at least the confidence. Source: ISO 22514-2 (index and fraction); Chou, Owen and Borrego (1990).
/// </remarks>
public sealed record OutsideFinding(long Below, long Above, ConfidenceInterval ClopperPearson, ConfidenceInterval Wilson, ConfidenceInterval Fitted)
{
    /// <summary>Values outside.</summary>
    public long Count => Below + Above;

    /// <summary>Counts and fits.</summary>
    public static OutsideFinding Of(ReadOnlySpan<double> values, CapabilityIndices indices, LimitPair limits, NormalityFinding normality, double confidence)
    {
        long below = 0, above = 0;
        foreach (double x in values)
        {
            below += x < limits.Lower ? 1 : 0;
            above += x > limits.Upper ? 1 : 0;
        }

        int n = values.Length;
        long seen = below + above;
        return new(
            below, above,
            seen == 0 ? BinomialInterval.ClopperPearsonUpper(0, n, confidence) : BinomialInterval.ClopperPearson(seen, n, confidence),
            seen == 0 ? BinomialInterval.WilsonUpper(0, n, confidence) : BinomialInterval.Wilson(seen, n, confidence),
            Fit(indices, normality, n, confidence));
    }

    private static ConfidenceInterval Fit(CapabilityIndices indices, NormalityFinding normality, int n, double confidence)
    {
        if (normality.Refused is not false)
        {
            return ConfidenceInterval.Withhold(
                normality.Refused is true ? "normality is refused: the tail of a normal law says nothing about this output"
                    : FormattableString.Invariant($"normality cannot be tested ({normality.AndersonDarling.Withheld}); at least {AndersonDarling.LeastCount} values are needed"),
                confidence, n);
        }

        double[] sides = [.. new[] { indices.Cpl, indices.Cpu }.OfType<double>()];
        double each = 1.0 - ((1.0 - confidence) / sides.Length);
        double bound = sides.Sum(side => NonconformingFraction.OneSided(CapabilityInterval.OneSidedLower(side, n, each).Lower!.Value));
        return new(sides.Sum(NonconformingFraction.OneSided), null, Math.Min(1.0, bound), confidence, n);
    }
}
