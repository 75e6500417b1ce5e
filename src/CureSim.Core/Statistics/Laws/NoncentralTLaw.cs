namespace CureSim.Core.Statistics;

/// <summary>The noncentral t law: T = (Z + δ)/S with Z normal and νS² chi-square, ν ≥ 1.</summary>
/// <remarks>
/// P(T ≤ t) = ∫₀^∞ Φ(t s − δ) f(s) ds, f the density of S. The integrand is log-concave for ν ≥ 1, so its mode and the range that matters
/// are found first and Gauss–Legendre panels cover only that. Relative error of either tail about 1e-12 (asked for: 1e-10).
/// Source: the definition; D. B. Owen, "A survey of properties and applications of the noncentral t-distribution", Technometrics 10 (1968) 445.
/// Checked against: mpmath integrals to 25 digits (tests/data/reference/statistics-scipy.csv), and the capability and tolerance rows.
/// </remarks>
internal static class NoncentralTLaw
{
    /// <summary>Where the logarithm of the integrand is this far below its peak, the rest is less than 1e-18 of the whole.</summary>
    private const double LogNegligible = 44.0;

    /// <summary>P(T ≤ t).</summary>
    public static double Cdf(double t, double degrees, double noncentrality) => Integral(t, degrees, noncentrality, 1.0);

    /// <summary>P(T &gt; t).</summary>
    public static double Survival(double t, double degrees, double noncentrality) => Integral(t, degrees, noncentrality, -1.0);

    /// <summary>The t with P(T ≤ t) = p, 0 &lt; p &lt; 1.</summary>
    public static double Quantile(double p, double degrees, double noncentrality)
    {
        Probability(p);
        double Difference(double t) => p <= 0.5 ? Cdf(t, degrees, noncentrality) - p : 1.0 - p - Survival(t, degrees, noncentrality);
        double step = 1.0 + (0.1 * Math.Abs(noncentrality));
        return MonotoneRoot.FindOutward(Difference, noncentrality, Difference(noncentrality) < 0.0 ? step : -step);
    }

    /// <summary>The δ at which P(T ≤ t) = p: a confidence limit of the noncentrality when t was observed.</summary>
    public static double NoncentralityFor(double p, double t, double degrees)
    {
        Probability(p);
        double Difference(double d) => p <= 0.5 ? Cdf(t, degrees, d) - p : 1.0 - p - Survival(t, degrees, d);
        double step = 1.0 + (0.1 * Math.Abs(t));
        return MonotoneRoot.FindOutward(Difference, t, Difference(t) > 0.0 ? step : -step);
    }

    private static double Integral(double t, double degrees, double noncentrality, double sign)
    {
        if (!(degrees >= 1.0) || double.IsNaN(t) || double.IsNaN(noncentrality))
        {
            throw new ArgumentOutOfRangeException(nameof(degrees), degrees, "The noncentral t law needs ν ≥ 1 and numbers t and δ.");
        }

        // ln of the integrand over f(1); f(1) = 2 √(a/2π) exp(−Stirling error of a), a = ν/2.
        double LogShape(double s) =>
            NormalLaw.LogCdf(sign * ((t * s) - noncentrality)) + ((degrees - 1.0) * Math.Log(s)) - (0.5 * degrees * (s - 1.0) * (s + 1.0));
        double mode = Mode(t, degrees, noncentrality, sign);
        double peak = LogShape(mode);
        double Excess(double s) => LogShape(s) - peak + LogNegligible;
        double upper = MonotoneRoot.FindOutward(Excess, mode, 0.5 / Math.Sqrt(degrees));
        const double Least = 1e-280;
        double lower = Excess(Least) >= 0.0 ? 0.0 : MonotoneRoot.Find(Excess, Least, mode);
        double area = GaussQuadrature.Integrate(s => Math.Exp(LogShape(s) - peak), lower, upper);
        double a = 0.5 * degrees;
        return area * Math.Exp(peak - SaddlePoint.StirlingError(a)) * 2.0 * Math.Sqrt(a / (2.0 * Math.PI));
    }

    private static double Mode(double t, double degrees, double noncentrality, double sign)
    {
        double Slope(double s)
        {
            double x = sign * ((t * s) - noncentrality);
            double ratio = x < 0.0 ? 0.39894228040143267794 / NormalLaw.ScaledTail(-x) : NormalLaw.Density(x) / NormalLaw.Cdf(x);
            return (sign * t * ratio) + ((degrees - 1.0) / s) - (degrees * s);
        }

        const double Least = 1e-12;
        return Slope(Least) <= 0.0 ? Least : MonotoneRoot.FindOutward(Slope, Least, 0.25);
    }

    private static void Probability(double p)
    {
        if (!(p > 0.0 && p < 1.0))
        {
            throw new ArgumentOutOfRangeException(nameof(p), p, "A probability strictly between 0 and 1 is needed.");
        }
    }
}
