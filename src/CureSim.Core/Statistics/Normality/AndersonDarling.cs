namespace CureSim.Core.Statistics;

/// <summary>Result of a test of normality, or the reason why there is none.</summary>
/// <param name="Count">Sample size.</param>
/// <param name="Statistic">A² or W; null when withheld.</param>
/// <param name="Modified">A*² = A²(1 + 0.75/n + 2.25/n²); null for W.</param>
/// <param name="PValue">Probability of a statistic at least as far from normal; null when withheld.</param>
/// <param name="Withheld">Why there is no test; null when there is.</param>
public sealed record NormalityTest(long Count, double? Statistic, double? Modified, double? PValue, string? Withheld = null)
{
    internal static NormalityTest Withhold(string reason, long count) => new(count, null, null, null, reason);
}

/// <summary>Anderson–Darling test of normality with mean and standard deviation estimated.</summary>
/// <remarks>
/// A² = −n − (1/n) Σ (2i − 1)[ln Φ(z_(i)) + ln(1 − Φ(z_(n+1−i)))]; p by Stephens' four-piece approximation of A*².
/// Source: T. W. Anderson and D. A. Darling, Ann. Math. Statist. 23 (1952) 193; R. B. D'Agostino and M. A. Stephens, Goodness-of-Fit Techniques (1986),
/// section 4.8 and tables 4.7, 4.9 (case 3). Checked against: rows NRM-ADP, NRM-AD-*.
/// </remarks>
public static class AndersonDarling
{
    /// <summary>Least sample size for which the approximation of p is given.</summary>
    public const int LeastCount = 8;

    /// <summary>Tests a sample in any order.</summary>
    public static NormalityTest Normal(ReadOnlySpan<double> values)
    {
        int n = values.Length;
        if (n < LeastCount)
        {
            return NormalityTest.Withhold(FormattableString.Invariant($"fewer than {LeastCount} values"), n);
        }

        SampleMoments moments = SampleMoments.Of(values);
        if (moments.StandardDeviation is not > 0.0)
        {
            return NormalityTest.Withhold("the values show no spread", n);
        }

        double[] z = values.ToArray();
        Array.Sort(z);
        for (int i = 0; i < n; i++)
        {
            z[i] = (z[i] - moments.Mean) / moments.StandardDeviation.Value;
        }

        double sum = 0.0;
        for (int i = 0; i < n; i++)
        {
            sum += ((2.0 * i) + 1.0) * (NormalLaw.LogCdf(z[i]) + NormalLaw.LogCdf(-z[n - 1 - i]));
        }

        double a = -n - (sum / n);
        double modified = a * (1.0 + (0.75 / n) + (2.25 / ((double)n * n)));
        return new NormalityTest(n, a, modified, PValue(modified));
    }

    /// <summary>p of A*².</summary>
    public static double PValue(double modified)
    {
        double a = modified;
        return a switch
        {
            < 0.2 => 1.0 - Math.Exp(-13.436 + (101.14 * a) - (223.73 * a * a)),
            < 0.34 => 1.0 - Math.Exp(-8.318 + (42.796 * a) - (59.938 * a * a)),
            < 0.6 => Math.Exp(0.9177 - (4.279 * a) - (1.38 * a * a)),

            // The last piece turns upwards beyond its minimum at 153; far out p is 0 to any purpose.
            < 153.0 => Math.Exp(1.2937 - (5.709 * a) + (0.0186 * a * a)),
            _ => 0.0,
        };
    }
}
