namespace CureSim.Core.Numerics;

/// <summary>Monotone piecewise cubic through given points; held flat outside them.</summary>
/// <remarks>
/// Slopes by the weighted harmonic mean, so that no wiggle is added between points.
/// Source: Fritsch and Butland, SIAM J. Sci. Stat. Comput. 5 (1984) 300, doi:10.1137/0905021.
/// Our own because it is evaluated for every lifetime and step and its bits must not depend on a library's version.
/// </remarks>
public sealed class MonotoneCubic
{
    private readonly double[] x;
    private readonly double[] y;
    private readonly double[] slope;

    /// <summary>Needs at least two points, x strictly increasing; throws <see cref="ArgumentException"/> otherwise.</summary>
    public MonotoneCubic(double[] x, double[] y)
    {
        if (x.Length < 2 || x.Length != y.Length)
        {
            throw new ArgumentException($"a table needs two or more points and as many values; got {x.Length} and {y.Length}", nameof(x));
        }

        for (int i = 1; i < x.Length; i++)
        {
            if (!(x[i] > x[i - 1]))
            {
                throw new ArgumentException($"table points must increase; point {i + 1} is {x[i]} after {x[i - 1]}", nameof(x));
            }
        }

        this.x = x;
        this.y = y;
        slope = Slopes(x, y);
    }

    /// <summary>Value at <paramref name="at"/>.</summary>
    public double At(double at)
    {
        if (!(at > x[0]))
        {
            return double.IsNaN(at) ? at : y[0];
        }

        if (at >= x[^1])
        {
            return y[^1];
        }

        int low = 0, high = x.Length - 1;
        while (high - low > 1)
        {
            int middle = (low + high) >> 1;
            if (x[middle] <= at)
            {
                low = middle;
            }
            else
            {
                high = middle;
            }
        }

        double h = x[high] - x[low], t = (at - x[low]) / h;
        double rise = y[high] - y[low];
        double a = (h * slope[low]) - rise, b = rise - (h * slope[high]);
        return y[low] + (t * (rise + ((1.0 - t) * ((a * (1.0 - t)) + (b * t)))));
    }

    internal static double[] Slopes(double[] x, double[] y)
    {
        int n = x.Length;
        var secant = new double[n - 1];
        for (int i = 0; i < n - 1; i++)
        {
            secant[i] = (y[i + 1] - y[i]) / (x[i + 1] - x[i]);
        }

        var m = new double[n];
        for (int i = 1; i < n - 1; i++)
        {
            double h0 = x[i] - x[i - 1], h1 = x[i + 1] - x[i];
            m[i] = secant[i - 1] * secant[i] <= 0.0
                ? 0.0
                : 3.0 * (h0 + h1) / ((((2.0 * h1) + h0) / secant[i - 1]) + ((h1 + (2.0 * h0)) / secant[i]));
        }

        m[0] = End(x[1] - x[0], n > 2 ? x[2] - x[1] : 0.0, secant[0], n > 2 ? secant[1] : secant[0]);
        m[n - 1] = End(x[n - 1] - x[n - 2], n > 2 ? x[n - 2] - x[n - 3] : 0.0, secant[n - 2], n > 2 ? secant[n - 3] : secant[n - 2]);
        return m;
    }

    /// <summary>One-sided three-point slope at an end, limited so that the first interval stays monotone.</summary>
    private static double End(double h0, double h1, double s0, double s1)
    {
        if (h1 == 0.0)
        {
            return s0;
        }

        double m = ((((2.0 * h0) + h1) * s0) - (h0 * s1)) / (h0 + h1);
        if (m * s0 <= 0.0)
        {
            return 0.0;
        }

        return s0 * s1 <= 0.0 && Math.Abs(m) > 3.0 * Math.Abs(s0) ? 3.0 * s0 : m;
    }
}
