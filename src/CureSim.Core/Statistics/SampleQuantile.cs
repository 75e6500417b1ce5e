namespace CureSim.Core.Statistics;

/// <summary>Which plotting position a sample quantile uses; numbers after Hyndman and Fan.</summary>
public enum QuantileType
{
    /// <summary>p_k = (k − ½)/n (Hazen).</summary>
    Type5 = 5,

    /// <summary>p_k = k/(n + 1) (Weibull).</summary>
    Type6 = 6,

    /// <summary>p_k = (k − 1)/(n − 1): the extremes are the 0 and 1 quantiles.</summary>
    Type7 = 7,
}

/// <summary>Quantiles of a sample, linear between order statistics.</summary>
/// <remarks>
/// Source: R. J. Hyndman and Y. Fan, "Sample quantiles in statistical packages", The American Statistician 50 (1996) 361, definitions 5, 6, 7.
/// Checked against: rows DIS-EMP-hazen, DIS-EMP-weibull, DIS-EMP-linear.
/// </remarks>
public static class SampleQuantile
{
    /// <summary>The <paramref name="p"/> quantile of values sorted upwards, 0 ≤ p ≤ 1, in the unit of the values.</summary>
    public static double OfSorted(ReadOnlySpan<double> sorted, double p, QuantileType type = QuantileType.Type7)
    {
        if (sorted.IsEmpty)
        {
            throw new ArgumentException("A quantile of no values was asked for.", nameof(sorted));
        }

        if (!(p >= 0.0 && p <= 1.0))
        {
            throw new ArgumentOutOfRangeException(nameof(p), p, "A probability between 0 and 1 is needed.");
        }

        double n = sorted.Length;
        double position = type switch
        {
            QuantileType.Type5 => (n * p) + 0.5,
            QuantileType.Type6 => (n + 1.0) * p,
            QuantileType.Type7 => ((n - 1.0) * p) + 1.0,
            _ => throw new ArgumentOutOfRangeException(nameof(type), type, "Types 5, 6 and 7 are known."),
        };

        // A position that is a whole number but for rounding is taken as whole (as in R's quantile).
        double whole = Math.Floor(position + (4.0 * 2.22e-16 * n));
        double part = position - whole;
        part = Math.Abs(part) < 4.0 * 2.22e-16 * n ? 0.0 : part;
        int k = (int)Math.Clamp(whole, 1.0, n);
        int next = (int)Math.Clamp(whole + 1.0, 1.0, n);
        return sorted[k - 1] + (part * (sorted[next - 1] - sorted[k - 1]));
    }

    /// <summary>The same for values in any order; the values are copied and sorted.</summary>
    public static double Of(ReadOnlySpan<double> values, double p, QuantileType type = QuantileType.Type7)
    {
        double[] sorted = values.ToArray();
        Array.Sort(sorted);
        return OfSorted(sorted, p, type);
    }
}
