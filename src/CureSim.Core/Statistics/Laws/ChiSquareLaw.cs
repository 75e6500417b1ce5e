namespace CureSim.Core.Statistics;

/// <summary>The chi-square law with ν degrees of freedom (ν &gt; 0, not only whole), both tails and the quantile.</summary>
/// <remarks>
/// P(χ² ≤ x) = P(ν/2, x/2), the regularised incomplete gamma function: series below its mean, continued fraction above.
/// Relative error of the smaller tail about 1e-13. The quantile is the root to full precision (library quantiles stop at about 1e-8).
/// Source: Abramowitz and Stegun, Handbook of Mathematical Functions (1964), 6.5.29, 6.5.31, 26.4.19.
/// Checked against: SciPy (tests/data/reference/statistics-scipy.csv).
/// </remarks>
internal static class ChiSquareLaw
{
    /// <summary>P(χ² ≤ x).</summary>
    public static double Cdf(double x, double degrees) => LowerGamma(0.5 * degrees, 0.5 * x);

    /// <summary>P(χ² &gt; x).</summary>
    public static double Survival(double x, double degrees) => UpperGamma(0.5 * degrees, 0.5 * x);

    /// <summary>The x with P(χ² ≤ x) = p, 0 &lt; p &lt; 1.</summary>
    public static double Quantile(double p, double degrees)
    {
        if (!(p > 0.0 && p < 1.0))
        {
            throw new ArgumentOutOfRangeException(nameof(p), p, "A probability strictly between 0 and 1 is needed.");
        }

        return Solve(p, 1.0 - p, degrees);
    }

    /// <summary>The x with P(χ² &gt; x) = q, accurate for small q.</summary>
    public static double UpperQuantile(double q, double degrees)
    {
        if (!(q > 0.0 && q < 1.0))
        {
            throw new ArgumentOutOfRangeException(nameof(q), q, "A probability strictly between 0 and 1 is needed.");
        }

        return Solve(1.0 - q, q, degrees);
    }

    /// <summary>P(a, x) = γ(a, x)/Γ(a).</summary>
    public static double LowerGamma(double a, double x)
    {
        Guard(a, x);
        return x <= 0.0 ? 0.0 : x < a + 1.0 ? Series(a, x) : 1.0 - Fraction(a, x);
    }

    /// <summary>Q(a, x) = Γ(a, x)/Γ(a).</summary>
    public static double UpperGamma(double a, double x)
    {
        Guard(a, x);
        return x <= 0.0 ? 1.0 : x < a + 1.0 ? 1.0 - Series(a, x) : Fraction(a, x);
    }

    private static double Solve(double p, double q, double degrees)
    {
        double Difference(double x) => p <= q ? Cdf(x, degrees) - p : q - Survival(x, degrees);
        double upper = degrees;
        while (Difference(upper) < 0.0)
        {
            upper *= 2.0;
        }

        double lower = upper;
        do
        {
            lower *= 0.5;
            if (lower == 0.0)
            {
                return 0.0;
            }
        }
        while (Difference(lower) > 0.0);
        return MonotoneRoot.Find(Difference, lower, upper);
    }

    private static double Series(double a, double x)
    {
        double term = 1.0;
        double sum = 1.0;
        for (int i = 1; i < 2_000_000; i++)
        {
            term *= x / (a + i);
            sum += term;
            if (term <= sum * 1e-17)
            {
                return sum * SaddlePoint.Poisson(a, x);
            }
        }

        throw new ArithmeticException("The series of the incomplete gamma function did not end.");
    }

    private static double Fraction(double a, double x)
    {
        // Lentz's method on 6.5.31; Γ(a, x)/Γ(a) = x^a e^(−x)/Γ(a) · f = a · Poisson(a, x) · f.
        double b = x + 1.0 - a;
        double c = 1e300;
        double d = 1.0 / b;
        double f = d;
        for (int i = 1; i < 2_000_000; i++)
        {
            double an = -i * (i - a);
            b += 2.0;
            d = NotZero((an * d) + b);
            c = NotZero(b + (an / c));
            d = 1.0 / d;
            double factor = d * c;
            f *= factor;
            if (Math.Abs(factor - 1.0) < 1e-16)
            {
                return a * SaddlePoint.Poisson(a, x) * f;
            }
        }

        throw new ArithmeticException("The continued fraction of the incomplete gamma function did not end.");
    }

    private static double NotZero(double x) => x == 0.0 ? 1e-300 : x;

    private static void Guard(double a, double x)
    {
        if (!(a > 0.0) || double.IsNaN(x))
        {
            throw new ArgumentOutOfRangeException(nameof(a), a, "The incomplete gamma function needs a > 0 and a number x.");
        }
    }
}
