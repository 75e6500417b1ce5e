namespace CureSim.Core.Numerics;

/// <summary>Gamma function and its incomplete ratios, with the same bits on every machine.</summary>
/// <remarks>
/// Definitions and expansions: NIST Digital Library of Mathematical Functions, 5.11.1 (Stirling), 8.7.1 (series), 8.9.2 (continued fraction).
/// Not for hot loops.
/// </remarks>
public static class GammaFunctions
{
    private const double HalfLogTwoPi = 0.9189385332046728;
    private const double StirlingFrom = 10.0;
    private const int MostTerms = 1_000_000;

    /// <summary>ln Γ(x) for x &gt; 0; error below 10⁻¹⁴ absolute or relative, whichever is larger.</summary>
    public static double LogGamma(double x)
    {
        if (!(x > 0.0))
        {
            return double.NaN;
        }

        double product = 1.0;
        for (; x < StirlingFrom; x += 1.0)
        {
            product *= x;
        }

        return ((x - 0.5) * BlockMath.Log(x)) - x + HalfLogTwoPi + StirlingRest(x) - BlockMath.Log(product);
    }

    /// <summary>Γ(x) for x &gt; 0.</summary>
    public static double Gamma(double x) => BlockMath.Exp(LogGamma(x));

    /// <summary>
    /// P(a, x) and Q(a, x) = 1 − P for a &gt; 0, and the front factor x^a·e^−x/Γ(a), which is x times the density.
    /// Error below 2·10⁻¹⁴·(1 + a·|ln x| + x): relative for P where x &lt; a + 1 and for Q elsewhere, absolute for the other, which is 1 minus it.
    /// </summary>
    public static (double Lower, double Upper, double Front) Incomplete(double a, double x)
    {
        if (!(x > 0.0))
        {
            return (0.0, 1.0, 0.0);
        }

        if (double.IsPositiveInfinity(x))
        {
            return (1.0, 0.0, 0.0);
        }

        double front = BlockMath.Exp((a * BlockMath.Log(x)) - x - LogGamma(a));
        if (x < a + 1.0)
        {
            double lower = front / a * Series(a, x);
            return (lower, 1.0 - lower, front);
        }

        double upper = front * Fraction(a, x);
        return (1.0 - upper, upper, front);
    }

    /// <summary>ln Γ(x) − ((x − ½)·ln x − x + ½·ln 2π) for x ≥ 10; error below 2·10⁻¹⁷ there.</summary>
    internal static double StirlingRest(double x)
    {
        double r = 1.0 / x, s = r * r;
        return r * ((1.0 / 12) + (s * ((-1.0 / 360) + (s * ((1.0 / 1260) + (s * ((-1.0 / 1680) + (s * ((1.0 / 1188)
            + (s * ((-691.0 / 360360) + (s * (1.0 / 156)))))))))))));
    }

    private static double Series(double a, double x)
    {
        double sum = 1.0, term = 1.0;
        for (int n = 1; n < MostTerms; n++)
        {
            term *= x / (a + n);
            sum += term;
            if (term < sum * 1e-17)
            {
                return sum;
            }
        }

        throw new ArithmeticException($"incomplete gamma series for a = {a}, x = {x} does not converge");
    }

    /// <summary>Continued fraction by the modified Lentz method.</summary>
    private static double Fraction(double a, double x)
    {
        const double Tiny = 1e-300;
        double b = x + 1.0 - a, c = 1.0 / Tiny, d = 1.0 / b, h = d;
        for (int n = 1; n < MostTerms; n++)
        {
            double numerator = -n * (n - a);
            b += 2.0;
            d = (numerator * d) + b;
            d = 1.0 / (d == 0.0 ? Tiny : d);
            c = b + (numerator / c);
            c = c == 0.0 ? Tiny : c;
            double change = c * d;
            h *= change;
            if (Math.Abs(change - 1.0) < 2.3e-16)
            {
                return h;
            }
        }

        throw new ArithmeticException($"incomplete gamma fraction for a = {a}, x = {x} does not converge");
    }
}
