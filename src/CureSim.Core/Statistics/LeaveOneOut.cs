namespace CureSim.Core.Statistics;

/// <summary>The standard error of a figure from what it becomes when one group of observations after the other is left out (jackknife).</summary>
/// <remarks>
/// h_j = n/m_j with m_j the size of group j; pseudo-value θ̃_j = h_j θ − (h_j − 1) θ₍ⱼ₎; θ_J = g θ − Σ (1 − 1/h_j) θ₍ⱼ₎;
/// SE² = (1/g) Σ (θ̃_j − θ_J)²/(h_j − 1); interval θ ± t₀.₉₇₅,g−1 · SE. With groups of one size SE² = (g − 1)/g · Σ (θ₍ⱼ₎ − mean)².
/// For a mean this is the error that the scatter of the groups shows; for a smooth function of moments (an index) it stays right where the groups are
/// so small that the function of a group is biased and skewed. It does not hold for quantiles.
/// Source: F. M. T. A. Busing, E. Meijer and R. van der Leeden, Delete-m jackknife for unequal m, Statistics and Computing 9 (1999) 3 (recalled from memory);
/// equal groups: B. Efron and R. J. Tibshirani, An Introduction to the Bootstrap (1993), chapter 11.
/// </remarks>
public static class LeaveOneOut
{
    /// <summary>The figure with its interval; withheld with fewer than two groups.</summary>
    /// <param name="value">Figure of everything.</param>
    /// <param name="without">Figure without each group.</param>
    /// <param name="sizes">Size of each group, above 0.</param>
    /// <param name="count">How many observations there are, as it is stated beside the figure.</param>
    public static Estimate Of(double value, ReadOnlySpan<double> without, ReadOnlySpan<double> sizes, long? count = null)
    {
        if (without.Length != sizes.Length)
        {
            throw new ArgumentException("There must be one size for each group.", nameof(sizes));
        }

        int groups = without.Length;
        if (groups < 2)
        {
            return Estimate.Withhold("fewer than two groups: their scatter cannot be seen", count);
        }

        double n = 0.0;
        foreach (double size in sizes)
        {
            n += size > 0.0 && double.IsFinite(size) ? size : throw new ArgumentOutOfRangeException(nameof(sizes), size, "A group has a size above zero.");
        }

        double centre = groups * value;
        for (int j = 0; j < groups; j++)
        {
            centre -= (1.0 - (sizes[j] / n)) * without[j];
        }

        double squares = 0.0;
        for (int j = 0; j < groups; j++)
        {
            double h = n / sizes[j];
            double d = (h * value) - ((h - 1.0) * without[j]) - centre;
            squares += d * d / (h - 1.0);
        }

        double error = Math.Sqrt(squares / groups);
        double half = BatchEstimate.Multiple(groups) * error;
        return Estimate.Bounded(value, error, value - half, value + half, count);
    }
}
