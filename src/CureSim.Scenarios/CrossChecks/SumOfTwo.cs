using CureSim.Core.Distributions;

namespace CureSim.Scenarios;

/// <summary>Tail of the sum of two independent quantities.</summary>
internal static class SumOfTwo
{
    private const int Points = 801;
    private const double Widest = 9;

    /// <summary>P(a + b ≤ limit).</summary>
    /// <remarks>
    /// ∫ φ(z)·F_b(limit − Q_a(Φ(z))) dz by the trapezoid rule over |z| ≤ 9, which leaves out 2·10⁻¹⁹. Good to about three digits for
    /// continuous distributions down to 10⁻¹⁵: enough to say whether a probability is negligible.
    /// </remarks>
    public static double AtMost(double limit, IDistribution a, IDistribution b)
    {
        if (a is FixedValue fixedA)
        {
            return b.Cdf(limit - fixedA.Value);
        }

        if (b is FixedValue fixedB)
        {
            return a.Cdf(limit - fixedB.Value);
        }

        double sum = 0;
        double step = 2 * Widest / (Points - 1);
        for (int i = 0; i < Points; i++)
        {
            double z = -Widest + (i * step);
            sum += Math.Exp(-z * z / 2) / Math.Sqrt(2 * Math.PI) * step * b.Cdf(limit - a.QuantileOfScore(z));
        }

        return Math.Min(1, sum);
    }
}
