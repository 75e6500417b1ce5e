using MathNet.Numerics;

namespace CureSim.Core.Statistics;

/// <summary>Poisson and binomial point probabilities at real arguments, without the cancellation of large log-gammas.</summary>
/// <remarks>
/// The prefactors of the incomplete gamma and beta functions are these two. Formed as a deviance plus the error of Stirling's formula
/// they keep about 1e-14 where exp(lnΓ(a) + …) would lose a digit for each power of ten in a.
/// Source: C. Loader, "Fast and accurate computation of binomial probabilities" (2000).
/// </remarks>
internal static class SaddlePoint
{
    /// <summary>x^a e^(−x) / Γ(a + 1), a ≥ 0, x ≥ 0.</summary>
    public static double Poisson(double a, double x)
    {
        if (x == 0.0)
        {
            return a == 0.0 ? 1.0 : 0.0;
        }

        if (a == 0.0)
        {
            return Math.Exp(-x);
        }

        return Math.Exp(-StirlingError(a) - Deviance(a, x)) / Math.Sqrt(2.0 * Math.PI * a);
    }

    /// <summary>Γ(a+b+1)/(Γ(a+1)Γ(b+1)) x^a y^b with y = 1 − x given apart, so that neither end is rounded.</summary>
    public static double Binomial(double a, double b, double x, double y)
    {
        double n = a + b;
        if (x == 0.0 || y == 0.0)
        {
            return (x == 0.0 ? a : b) == 0.0 ? 1.0 : 0.0;
        }

        if (a == 0.0)
        {
            return Math.Exp(n * LogOf(y, x));
        }

        if (b == 0.0)
        {
            return Math.Exp(n * LogOf(x, y));
        }

        double log = StirlingError(n) - StirlingError(a) - StirlingError(b) - Deviance(a, n * x) - Deviance(b, n * y);
        return Math.Exp(log) * Math.Sqrt(n / (2.0 * Math.PI * a * b));
    }

    /// <summary>ln Γ(a+1) − [(a + ½) ln a − a + ½ ln 2π], a &gt; 0.</summary>
    public static double StirlingError(double a)
    {
        if (a <= 15.0)
        {
            return SpecialFunctions.GammaLn(a + 1.0) - ((a + 0.5) * Math.Log(a)) + a - 0.91893853320467274178;
        }

        double s = 1.0 / (a * a);
        return ((1.0 / 12.0) - (((1.0 / 360.0) - (((1.0 / 1260.0) - (((1.0 / 1680.0) - (((1.0 / 1188.0) - (691.0 / 360360.0 * s)) * s)) * s)) * s)) * s)) / a;
    }

    /// <summary>a ln(a/m) + m − a: by series when a is near m, where the three terms would cancel.</summary>
    private static double Deviance(double a, double m)
    {
        double v = (a - m) / (a + m);
        if (Math.Abs(v) >= 0.1)
        {
            return (a * Math.Log(a / m)) + m - a;
        }

        // a ln(a/m) + m − a = (a−m)v + 2a Σ v^(2j+1)/(2j+1), j ≥ 1.
        double sum = (a - m) * v;
        double power = 2.0 * a * v;
        for (int j = 1; j < 100; j++)
        {
            power *= v * v;
            double next = sum + (power / ((2 * j) + 1));
            if (next == sum)
            {
                break;
            }

            sum = next;
        }

        return sum;
    }

    /// <summary>ln x where y = 1 − x is the better known when it is small.</summary>
    private static double LogOf(double x, double y) => y < 0.5 ? SmallArgument.Log1P(-y) : Math.Log(x);
}
