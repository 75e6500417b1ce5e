namespace CureSim.Core.Statistics;

/// <summary>Shapiro–Wilk test of normality for 4 … 5000 values.</summary>
/// <remarks>
/// W = (Σ a_i x_(i))²/Σ(x − x̄)², weights and p by Royston's approximations.
/// Source: S. S. Shapiro and M. B. Wilk, Biometrika 52 (1965) 591; P. Royston, "Remark AS R94", Appl. Statist. 44 (1995) 547.
/// Checked against: rows NRM-AD-* and R (tests/data/reference/statistics-survival.csv).
/// </remarks>
public static class ShapiroWilk
{
    private static readonly double[] LastWeight = [0.0, 0.221157, -0.147981, -2.07119, 4.434685, -2.706056];
    private static readonly double[] NextWeight = [0.0, 0.042981, -0.293762, -1.752461, 5.682633, -3.582633];
    private static readonly double[] SmallMean = [0.544, -0.39978, 0.025054, -6.714e-4];
    private static readonly double[] SmallSpread = [1.3822, -0.77857, 0.062767, -0.0020322];
    private static readonly double[] LargeMean = [-1.5861, -0.31082, -0.083751, 0.0038915];
    private static readonly double[] LargeSpread = [-0.4803, -0.082676, 0.0030302];

    /// <summary>Tests a sample in any order.</summary>
    public static NormalityTest Normal(ReadOnlySpan<double> values)
    {
        int n = values.Length;
        if (n is < 4 or > 5000)
        {
            return NormalityTest.Withhold("the approximation holds for 4 … 5000 values", n);
        }

        SampleMoments moments = SampleMoments.Of(values);
        if (moments.StandardDeviation is not > 0.0)
        {
            return NormalityTest.Withhold("the values show no spread", n);
        }

        double[] x = values.ToArray();
        Array.Sort(x);
        double[] a = Weights(n);
        double sum = 0.0;
        for (int i = 0; i < a.Length; i++)
        {
            sum += a[i] * (x[n - 1 - i] - x[i]);
        }

        double variance = moments.StandardDeviation.Value * moments.StandardDeviation.Value;
        double w = Math.Min(1.0, sum * sum / ((n - 1.0) * variance));
        return new NormalityTest(n, w, null, PValue(w, n));
    }

    private static double[] Weights(int n)
    {
        double[] m = new double[n / 2];
        double squares = 0.0;
        for (int i = 0; i < m.Length; i++)
        {
            m[i] = -NormalLaw.Quantile((i + 0.625) / (n + 0.25));
            squares += 2.0 * m[i] * m[i];
        }

        double root = Math.Sqrt(squares);
        double u = 1.0 / Math.Sqrt(n);
        double[] a = new double[m.Length];
        a[0] = (m[0] / root) + Polynomial(LastWeight, u);
        int fixedCount = n > 5 ? 2 : 1;
        double rest = squares - (2.0 * m[0] * m[0]);
        double left = 1.0 - (2.0 * a[0] * a[0]);
        if (fixedCount == 2)
        {
            a[1] = (m[1] / root) + Polynomial(NextWeight, u);
            rest -= 2.0 * m[1] * m[1];
            left -= 2.0 * a[1] * a[1];
        }

        double scale = Math.Sqrt(rest / left);
        for (int i = fixedCount; i < a.Length; i++)
        {
            a[i] = m[i] / scale;
        }

        return a;
    }

    private static double PValue(double w, int n)
    {
        if (w >= 1.0)
        {
            return 1.0;
        }

        double y = Math.Log(1.0 - w);
        if (n > 11)
        {
            double log = Math.Log(n);
            return NormalLaw.Survival((y - Polynomial(LargeMean, log)) / Math.Exp(Polynomial(LargeSpread, log)));
        }

        double gamma = -2.273 + (0.459 * n);
        return y >= gamma
            ? 0.0
            : NormalLaw.Survival((-Math.Log(gamma - y) - Polynomial(SmallMean, n)) / Math.Exp(Polynomial(SmallSpread, n)));
    }

    private static double Polynomial(double[] c, double x)
    {
        double sum = 0.0;
        for (int i = c.Length - 1; i >= 0; i--)
        {
            sum = (sum * x) + c[i];
        }

        return sum;
    }
}
