namespace CureSim.Core.Numerics;

/// <summary>Beta function and its incomplete ratio, with the same bits on every machine.</summary>
/// <remarks>Definitions and the continued fraction: NIST Digital Library of Mathematical Functions, 5.12.1, 8.17.4, 8.17.22. Not for hot loops.</remarks>
public static class BetaFunctions
{
    private const double StirlingFrom = 10.0;
    private const int MostTerms = 1_000_000;

    /// <summary>ln B(a, b) for a, b &gt; 0, without the cancellation of three large ln Γ when one argument is large; error below 10⁻¹⁴ absolute or relative.</summary>
    public static double LogBeta(double a, double b)
    {
        double small = Math.Min(a, b), large = Math.Max(a, b);
        if (large < StirlingFrom)
        {
            return GammaFunctions.LogGamma(a) + GammaFunctions.LogGamma(b) - GammaFunctions.LogGamma(a + b);
        }

        double sum = small + large;
        double ratio = small - (small * BlockMath.Log(large)) - ((sum - 0.5) * BlockMath.Log1p(small / large))
            + GammaFunctions.StirlingRest(large) - GammaFunctions.StirlingRest(sum); // ln Γ(large)/Γ(sum)
        return GammaFunctions.LogGamma(small) + ratio;
    }

    /// <summary>
    /// I_x(a, b) and 1 − I_x(a, b), and the front factor x^a·(1−x)^b/B(a, b), which is x·(1−x) times the density.
    /// Error below 2·10⁻¹⁴·(1 + a·|ln x| + b·|ln(1−x)|): relative for I where x &lt; (a + 1)/(a + b + 2) and for 1 − I elsewhere, absolute for the other.
    /// </summary>
    /// <param name="a">First shape, &gt; 0.</param>
    /// <param name="b">Second shape, &gt; 0.</param>
    /// <param name="x">From 0 to 1.</param>
    /// <param name="complement">1 − x, given apart because it may be too small to be had from x.</param>
    public static (double Lower, double Upper, double Front) Incomplete(double a, double b, double x, double complement)
    {
        if (!(x > 0.0))
        {
            return (0.0, 1.0, 0.0);
        }

        if (!(complement > 0.0))
        {
            return (1.0, 0.0, 0.0);
        }

        double logX = x < complement ? BlockMath.Log(x) : BlockMath.Log1p(-complement);
        double logComplement = x < complement ? BlockMath.Log1p(-x) : BlockMath.Log(complement);
        double front = BlockMath.Exp((a * logX) + (b * logComplement) - LogBeta(a, b));
        if (x < (a + 1.0) / (a + b + 2.0))
        {
            double lower = front / a * Fraction(a, b, x);
            return (lower, 1.0 - lower, front);
        }

        double upper = front / b * Fraction(b, a, complement);
        return (1.0 - upper, upper, front);
    }

    /// <summary>Continued fraction by the modified Lentz method, two terms a turn.</summary>
    private static double Fraction(double a, double b, double x)
    {
        double c = 1.0, d = 1.0 / Away(1.0 - ((a + b) * x / (a + 1.0))), h = d;
        for (int n = 1; n < MostTerms; n++)
        {
            double even = n * (b - n) * x / ((a + (2 * n) - 1.0) * (a + (2 * n)));
            d = 1.0 / Away(1.0 + (even * d));
            c = Away(1.0 + (even / c));
            h *= c * d;
            double odd = -(a + n) * (a + b + n) * x / ((a + (2 * n)) * (a + (2 * n) + 1.0));
            d = 1.0 / Away(1.0 + (odd * d));
            c = Away(1.0 + (odd / c));
            double change = c * d;
            h *= change;
            if (Math.Abs(change - 1.0) < 2.3e-16)
            {
                return h;
            }
        }

        throw new ArithmeticException($"incomplete beta fraction for a = {a}, b = {b}, x = {x} does not converge");
    }

    private static double Away(double value) => value == 0.0 ? 1e-300 : value;
}
