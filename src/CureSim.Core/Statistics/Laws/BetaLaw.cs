namespace CureSim.Core.Statistics;

/// <summary>The beta law on [0, 1] and, by it, the binomial tail probabilities.</summary>
/// <remarks>
/// I_x(a, b) by the continued fraction 26.5.8 of Abramowitz and Stegun (1964) with Lentz's method, on the side where it converges fast;
/// P(Bin(n, p) ≤ c) = I_{1−p}(n − c, c + 1) (26.5.24). Relative error of the smaller tail about 1e-13; the quantile is the root to full precision.
/// Checked against: SciPy (tests/data/reference/statistics-scipy.csv).
/// </remarks>
internal static class BetaLaw
{
    /// <summary>P(B ≤ x) = I_x(a, b).</summary>
    public static double Cdf(double x, double a, double b) => Regularised(x, 1.0 - x, a, b);

    /// <summary>P(B &gt; x).</summary>
    public static double Survival(double x, double a, double b) => Regularised(1.0 - x, x, b, a);

    /// <summary>The x with P(B ≤ x) = p, 0 &lt; p &lt; 1.</summary>
    public static double Quantile(double p, double a, double b)
    {
        if (!(p > 0.0 && p < 1.0))
        {
            throw new ArgumentOutOfRangeException(nameof(p), p, "A probability strictly between 0 and 1 is needed.");
        }

        return Solve(p, 1.0 - p, a, b);
    }

    /// <summary>The x with P(B &gt; x) = q, accurate for small q.</summary>
    public static double UpperQuantile(double q, double a, double b)
    {
        if (!(q > 0.0 && q < 1.0))
        {
            throw new ArgumentOutOfRangeException(nameof(q), q, "A probability strictly between 0 and 1 is needed.");
        }

        return Solve(1.0 - q, q, a, b);
    }

    /// <summary>P(Bin(n, p) ≤ c).</summary>
    public static double BinomialCdf(long c, long n, double p)
    {
        if (n < 0 || !(p >= 0.0 && p <= 1.0))
        {
            throw new ArgumentOutOfRangeException(nameof(n), "The binomial law needs n ≥ 0 and 0 ≤ p ≤ 1.");
        }

        return c < 0 ? 0.0 : c >= n ? 1.0 : Regularised(1.0 - p, p, n - c, c + 1.0);
    }

    /// <summary>I_x(a, b) with y = 1 − x given apart.</summary>
    public static double Regularised(double x, double y, double a, double b)
    {
        if (!(a > 0.0 && b > 0.0) || double.IsNaN(x))
        {
            throw new ArgumentOutOfRangeException(nameof(a), a, "The incomplete beta function needs a > 0, b > 0 and a number x.");
        }

        if (x <= 0.0)
        {
            return 0.0;
        }

        if (y <= 0.0)
        {
            return 1.0;
        }

        // Both prefactors equal x^a y^b Γ(a+b)/(Γ(a)Γ(b)) up to the factor 1/a or 1/b.
        double front = SaddlePoint.Binomial(a, b, x, y) / (a + b);
        return x < (a + 1.0) / (a + b + 2.0)
            ? front * b * Fraction(x, a, b)
            : 1.0 - (front * a * Fraction(y, b, a));
    }

    private static double Solve(double p, double q, double a, double b)
    {
        double Difference(double x) => p <= q ? Cdf(x, a, b) - p : q - Survival(x, a, b);
        double upper = 1.0;
        double lower = a / (a + b);
        if (Difference(lower) > 0.0)
        {
            upper = lower;
            do
            {
                lower *= 0.5;
                if (lower == 0.0)
                {
                    return 0.0;
                }
            }
            while (Difference(lower) > 0.0);
        }

        return MonotoneRoot.Find(Difference, lower, upper);
    }

    private static double Fraction(double x, double a, double b)
    {
        double c = 1.0;
        double d = 1.0 / NotZero(1.0 - ((a + b) * x / (a + 1.0)));
        double f = d;
        for (int m = 1; m < 2_000_000; m++)
        {
            double even = m * (b - m) * x / ((a + (2 * m) - 1.0) * (a + (2 * m)));
            d = 1.0 / NotZero(1.0 + (even * d));
            c = NotZero(1.0 + (even / c));
            f *= d * c;
            double odd = -(a + m) * (a + b + m) * x / ((a + (2 * m)) * (a + (2 * m) + 1.0));
            d = 1.0 / NotZero(1.0 + (odd * d));
            c = NotZero(1.0 + (odd / c));
            double factor = d * c;
            f *= factor;
            if (Math.Abs(factor - 1.0) < 1e-16)
            {
                return f;
            }
        }

        throw new ArithmeticException("The continued fraction of the incomplete beta function did not end.");
    }

    private static double NotZero(double x) => x == 0.0 ? 1e-300 : x;
}
