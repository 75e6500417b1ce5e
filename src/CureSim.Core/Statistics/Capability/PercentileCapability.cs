namespace CureSim.Core.Statistics;

/// <summary>Capability indices from three quantiles, for an output of any shape.</summary>
/// <remarks>
/// Cp = (U − L)/(X99.865 − X0.135) · Cpu = (U − X50)/(X99.865 − X50) · Cpl = (X50 − L)/(X50 − X0.135). For a normal output these are the moment indices.
/// Source: ISO 22514-2, percentile method (0.135 %, 50 %, 99.865 %). Another convention in print uses 0.5 % and 99.5 %; it is not used here.
/// Checked against: rows CAP-NN-*.
/// </remarks>
public static class PercentileCapability
{
    /// <summary>Probability below the lower reference quantile.</summary>
    public const double LowProbability = 0.00135;

    /// <summary>Probability below the upper reference quantile.</summary>
    public const double HighProbability = 0.99865;

    /// <summary>Relative difference of an index above which the moment indices are not to be used. Common practice, no source.</summary>
    public const double LargestAgreement = 0.10;

    /// <summary>Indices from the quantiles X0.135, X50 and X99.865 (same unit as the limits).</summary>
    public static CapabilityIndices Of(double low, double median, double high, LimitPair limits)
    {
        const CapabilityMethod Method = CapabilityMethod.Percentiles;
        if (limits.Fault is string fault)
        {
            return CapabilityIndices.Withhold(Method, fault);
        }

        if (!double.IsFinite(low) || !double.IsFinite(median) || !double.IsFinite(high))
        {
            return CapabilityIndices.Withhold(Method, "a quantile is not a finite number");
        }

        if (!(low < median && median < high))
        {
            return CapabilityIndices.Withhold(Method, "the quantiles do not increase: the output shows no spread on one side of its median");
        }

        double? cpl = (median - limits.Lower) / (median - low);
        double? cpu = (limits.Upper - median) / (high - median);
        double? width = limits.Upper - limits.Lower;
        double? k = width is double w ? Math.Abs((0.5 * (limits.Lower + limits.Upper)!.Value) - median) / (0.5 * w) : null;
        return new CapabilityIndices(Method, width / (high - low), cpl, cpu, CapabilityIndices.Smaller(cpl, cpu), null, k);
    }

    /// <summary>Indices of a sample of an output, values sorted upwards; withheld when the outer quantiles rest on no value.</summary>
    /// <remarks>Quantiles of type 6 of Hyndman and Fan; at least 740 values are needed for X0.135 to lie inside the sample (n + 1 ≥ 1/0.00135).</remarks>
    public static CapabilityIndices OfSorted(ReadOnlySpan<double> sorted, LimitPair limits)
    {
        int needed = PercentileInterval.LeastForOuterQuantiles;
        if (sorted.Length < needed)
        {
            return CapabilityIndices.Withhold(
                CapabilityMethod.Percentiles,
                FormattableString.Invariant($"{sorted.Length} values do not reach the 0.135 % and 99.865 % quantiles; at least {needed} are needed, or a fitted shape"));
        }

        return Of(
            SampleQuantile.OfSorted(sorted, LowProbability, QuantileType.Type6),
            SampleQuantile.OfSorted(sorted, 0.5, QuantileType.Type6),
            SampleQuantile.OfSorted(sorted, HighProbability, QuantileType.Type6),
            limits);
    }

    /// <summary>Sets the two methods side by side and says which to use.</summary>
    public static MethodComparison Compare(CapabilityIndices moments, CapabilityIndices percentiles)
    {
        double? largest = null;
        foreach (var (a, b) in new[]
        {
            (moments.Cp, percentiles.Cp), (moments.Cpl, percentiles.Cpl), (moments.Cpu, percentiles.Cpu), (moments.Cpk, percentiles.Cpk),
        })
        {
            if (a is double x && b is double y && Math.Max(Math.Abs(x), Math.Abs(y)) is > 0.0 and double size)
            {
                largest = Math.Max(largest ?? 0.0, Math.Abs(x - y) / size);
            }
        }

        return MethodComparison.From(largest, moments.Withheld ?? percentiles.Withheld);
    }
}
