namespace CureSim.Core.Statistics;

/// <summary>Student's t with ν degrees of freedom (ν &gt; 0).</summary>
/// <remarks>
/// P(|T| &gt; t) = I_w(ν/2, ½), w = ν/(ν + t²). Source: Abramowitz and Stegun (1964), 26.7.1 and 26.5.27.
/// Checked against: SciPy (tests/data/reference/statistics-scipy.csv).
/// </remarks>
internal static class StudentLaw
{
    /// <summary>P(T ≤ t).</summary>
    public static double Cdf(double t, double degrees) => t <= 0.0 ? Tail(-t, degrees) : 1.0 - Tail(t, degrees);

    /// <summary>P(T &gt; t).</summary>
    public static double Survival(double t, double degrees) => Cdf(-t, degrees);

    /// <summary>The t with P(T ≤ t) = p, 0 &lt; p &lt; 1.</summary>
    public static double Quantile(double p, double degrees)
    {
        if (!(p > 0.0 && p < 1.0))
        {
            throw new ArgumentOutOfRangeException(nameof(p), p, "A probability strictly between 0 and 1 is needed.");
        }

        return p == 0.5 ? 0.0 : p < 0.5 ? -Upper(p, degrees) : Upper(1.0 - p, degrees);
    }

    private static double Tail(double t, double degrees)
    {
        double square = t * t;
        return double.IsInfinity(square) ? 0.0 : 0.5 * BetaLaw.Regularised(degrees / (degrees + square), square / (degrees + square), 0.5 * degrees, 0.5);
    }

    private static double Upper(double q, double degrees)
    {
        // The branch is chosen so that the small one of w and 1 − w is the one solved for.
        if (2.0 * q < 0.5)
        {
            double w = BetaLaw.Quantile(2.0 * q, 0.5 * degrees, 0.5);
            double v = w < 0.5 ? 1.0 - w : BetaLaw.UpperQuantile(2.0 * q, 0.5, 0.5 * degrees);
            return Math.Sqrt(degrees * v / (w < 0.5 ? w : 1.0 - v));
        }

        double small = BetaLaw.Quantile(1.0 - (2.0 * q), 0.5, 0.5 * degrees);
        return Math.Sqrt(degrees * small / (1.0 - small));
    }
}
