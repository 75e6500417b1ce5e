namespace CureSim.StatisticalTests.Reference;

/// <summary>Monotone cubic interpolation of a table, held flat outside it.</summary>
/// <remarks>
/// Cubic Hermite pieces; slope at an inner point: 0 where the secants change sign, else their weighted harmonic mean; at the ends the
/// three-point formula, limited to keep the shape.
/// Source: F. N. Fritsch, J. Butland, "A method for constructing local monotone piecewise cubic interpolants", SIAM J. Sci. Stat. Comput. 5 (1984) 300–304.
/// </remarks>
public static class MonotoneTable
{
    /// <summary>Value at <paramref name="x"/>; abscissae increase.</summary>
    public static double At(IReadOnlyList<double> xs, IReadOnlyList<double> ys, double x)
    {
        int last = xs.Count - 1;
        if (x <= xs[0] || last == 0)
        {
            return ys[0];
        }

        if (x >= xs[last])
        {
            return ys[last];
        }

        int i = 0;
        while (x > xs[i + 1])
        {
            i++;
        }

        double h = xs[i + 1] - xs[i];
        double s = (x - xs[i]) / h;
        double d0 = Slope(xs, ys, i);
        double d1 = Slope(xs, ys, i + 1);
        double h00 = (1 + (2 * s)) * (1 - s) * (1 - s);
        double h10 = s * (1 - s) * (1 - s);
        double h01 = s * s * (3 - (2 * s));
        double h11 = s * s * (s - 1);
        return (h00 * ys[i]) + (h10 * h * d0) + (h01 * ys[i + 1]) + (h11 * h * d1);
    }

    private static double Slope(IReadOnlyList<double> xs, IReadOnlyList<double> ys, int i)
    {
        int last = xs.Count - 1;
        if (last == 1)
        {
            return Secant(0);
        }

        if (i == 0)
        {
            return EndSlope(Width(0), Width(1), Secant(0), Secant(1));
        }

        if (i == last)
        {
            return EndSlope(Width(last - 1), Width(last - 2), Secant(last - 1), Secant(last - 2));
        }

        double left = Secant(i - 1);
        double right = Secant(i);
        if (left * right <= 0)
        {
            return 0;
        }

        double w1 = (2 * Width(i)) + Width(i - 1);
        double w2 = Width(i) + (2 * Width(i - 1));
        return (w1 + w2) / ((w1 / left) + (w2 / right));

        double Width(int j) => xs[j + 1] - xs[j];
        double Secant(int j) => (ys[j + 1] - ys[j]) / Width(j);
    }

    private static double EndSlope(double nearWidth, double farWidth, double near, double far)
    {
        double slope = ((((2 * nearWidth) + farWidth) * near) - (nearWidth * far)) / (nearWidth + farWidth);
        if (Math.Sign(slope) != Math.Sign(near))
        {
            return 0;
        }

        return Math.Sign(near) != Math.Sign(far) && Math.Abs(slope) > Math.Abs(3 * near) ? 3 * near : slope;
    }
}
