using CureSim.Core.Random;

namespace CureSim.Core.Statistics;

/// <summary>Intervals of sample quantiles and of the percentile indices, without assuming a shape.</summary>
/// <remarks>
/// Quantile: the order statistics x(l), x(u) with P(Bin(n, p) &lt; l) ≤ α/2 and P(Bin(n, p) ≥ u) ≤ α/2 cover it with at least the confidence.
/// Indices: percentile bootstrap. A resample's order statistic j is x(⌈n U(j)⌉) with U(j) an order statistic of n uniforms, so only the few that
/// the three quantiles need are drawn, exactly, from beta laws: the work does not grow with n.
/// Source: H. A. David and H. N. Nagaraja, Order Statistics, 3rd ed. (2003), sections 2.2 and 7.1; ISO 16269-7 (median); B. Efron and R. J. Tibshirani,
/// An Introduction to the Bootstrap (1993), section 13.3. Checked against: SciPy binomial ranks, and plain resampling.
/// </remarks>
public static class PercentileInterval
{
    /// <summary>Least sample size at which the 0.135 % and 99.865 % quantiles lie between order statistics (type 6).</summary>
    public const int LeastForOuterQuantiles = 740;

    /// <summary>Distribution-free two-sided interval of the <paramref name="p"/> quantile of values sorted upwards.</summary>
    public static ConfidenceInterval Quantile(ReadOnlySpan<double> sorted, double p, double confidence = 0.95)
    {
        ConfidenceInterval.Guard(confidence);
        int n = sorted.Length;
        if (n == 0)
        {
            return ConfidenceInterval.Withhold("no values", confidence, 0);
        }

        double alpha = 1.0 - confidence;
        double value = SampleQuantile.OfSorted(sorted, p, QuantileType.Type6);
        if (LowerRank(n, p, 0.5 * alpha) is not int low || UpperRank(n, p, 0.5 * alpha) is not int high)
        {
            int needed = LeastForInterval(p, confidence);
            return ConfidenceInterval.Withhold(
                FormattableString.Invariant($"{n} values do not bound the {p:0.#####} quantile; at least {needed} are needed"), confidence, n, value);
        }

        return new ConfidenceInterval(value, sorted[low - 1], sorted[high - 1], confidence, n);
    }

    /// <summary>Least sample size at which order statistics bound the <paramref name="p"/> quantile on both sides.</summary>
    public static int LeastForInterval(double p, double confidence = 0.95)
    {
        ConfidenceInterval.Guard(confidence);
        return (int)Math.Ceiling(Math.Log(0.5 * (1.0 - confidence)) / SmallArgument.Log1P(-Math.Min(p, 1.0 - p)));
    }

    /// <summary>Two-sided 95 % bootstrap interval of the percentile Cpk (values sorted upwards); the same seed gives the same interval.</summary>
    public static Estimate BootstrapCpk(ReadOnlySpan<double> sorted, LimitPair limits, ulong seed, int resamples = 2000)
    {
        CapabilityIndices found = PercentileCapability.OfSorted(sorted, limits);
        if (found.Cpk is not double value)
        {
            return Estimate.Withhold(found.Withheld ?? "no index", sorted.Length);
        }

        ArgumentOutOfRangeException.ThrowIfLessThan(resamples, 100);
        var stream = StreamKey.Of(DrawDomain.Reserved, "statistics.percentile-bootstrap");
        double[] indices = new double[resamples];
        int usable = 0;
        for (int r = 0; r < resamples; r++)
        {
            double[] x = Resample(sorted, i => Draw.Uniform(seed, 0, (uint)r, stream, i));
            if (PercentileCapability.Of(x[0], x[1], x[2], limits).Cpk is double c)
            {
                indices[usable++] = c;
            }
        }

        if (usable < resamples)
        {
            return Estimate.Withhold("some resamples show no spread on one side of the median", sorted.Length);
        }

        Array.Sort(indices);
        double error = SampleMoments.Of(indices).StandardDeviation!.Value;
        return Estimate.Bounded(value, error, SampleQuantile.OfSorted(indices, 0.025), SampleQuantile.OfSorted(indices, 0.975), sorted.Length);
    }

    /// <summary>Largest l with P(Bin(n, p) ≤ l − 1) ≤ tail; null when even the smallest value is not low enough.</summary>
    internal static int? LowerRank(int n, double p, double tail)
    {
        int low = 0;
        int high = n;
        while (low < high)
        {
            int middle = (low + high + 1) / 2;
            (low, high) = BetaLaw.BinomialCdf(middle - 1, n, p) <= tail ? (middle, high) : (low, middle - 1);
        }

        return low >= 1 ? low : null;
    }

    /// <summary>Smallest u with P(Bin(n, p) ≥ u) ≤ tail; null when even the largest value is not high enough.</summary>
    internal static int? UpperRank(int n, double p, double tail) => LowerRank(n, 1.0 - p, tail) is int l ? n + 1 - l : null;

    private static double[] Resample(ReadOnlySpan<double> sorted, Func<long, double> uniform)
    {
        int n = sorted.Length;
        double[] result = new double[3];
        double[] probabilities = [PercentileCapability.LowProbability, 0.5, PercentileCapability.HighProbability];
        double u = 0.0;
        int rank = 0;
        long draw = 0;
        for (int q = 0; q < 3; q++)
        {
            double position = (n + 1.0) * probabilities[q];
            int k = (int)Math.Clamp(Math.Floor(position), 1.0, n - 1.0);
            double x = 0.0;
            for (int j = k; j <= k + 1; j++)
            {
                // Given U(rank) = u, (U(j) − u)/(1 − u) follows the beta law (j − rank, n − j + 1).
                if (j > rank)
                {
                    u += (1.0 - u) * BetaLaw.Quantile(uniform(draw), j - rank, n - j + 1);
                    rank = j;
                }

                double value = sorted[Math.Clamp((int)Math.Ceiling(n * u), 1, n) - 1];
                x += value * (j == k ? 1.0 - (position - k) : position - k);
                draw++;
            }

            result[q] = x;
        }

        return result;
    }
}
