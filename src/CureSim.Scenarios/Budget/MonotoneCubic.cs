using System.Collections.Immutable;

namespace CureSim.Scenarios;

/// <summary>Monotone cubic interpolation of a table, flat outside.</summary>
/// <remarks>
/// Cubic Hermite pieces; slopes are the weighted harmonic means of the neighbouring secants, 0 where these change sign.
/// Source: Fritsch, Butland, A method for constructing local monotone piecewise cubic interpolants, SIAM J. Sci. Stat. Comput. 5 (1984) 300.
/// </remarks>
internal static class MonotoneCubic
{
    public static double At(ImmutableArray<double> x, ImmutableArray<double> y, double at)
    {
        if (at <= x[0])
        {
            return y[0];
        }

        if (at >= x[^1])
        {
            return y[^1];
        }

        int i = 0;
        while (at > x[i + 1])
        {
            i++;
        }

        double h = x[i + 1] - x[i];
        double s = (at - x[i]) / h;
        double a = Slope(x, y, i) * h;
        double b = Slope(x, y, i + 1) * h;
        double rise = y[i + 1] - y[i];
        return y[i] + (s * (a + (s * ((3 * rise) - (2 * a) - b + (s * (a + b - (2 * rise)))))));
    }

    private static double Slope(ImmutableArray<double> x, ImmutableArray<double> y, int i)
    {
        double Secant(int j) => (y[j + 1] - y[j]) / (x[j + 1] - x[j]);
        if (x.Length == 2)
        {
            return Secant(0);
        }

        if (i == 0 || i == x.Length - 1)
        {
            return End(x, i == 0 ? Secant(0) : Secant(i - 1), i == 0 ? Secant(1) : Secant(i - 2), i == 0 ? 0 : i - 1, i == 0 ? 1 : i - 2);
        }

        double left = Secant(i - 1);
        double right = Secant(i);
        if (left * right <= 0)
        {
            return 0;
        }

        double hl = x[i] - x[i - 1];
        double hr = x[i + 1] - x[i];
        double wl = (2 * hr) + hl;
        double wr = hr + (2 * hl);
        return (wl + wr) / ((wl / left) + (wr / right));
    }

    // Three-point formula at an end, kept to the shape of the data.
    private static double End(ImmutableArray<double> x, double near, double far, int nearPiece, int farPiece)
    {
        double h0 = x[nearPiece + 1] - x[nearPiece];
        double h1 = x[farPiece + 1] - x[farPiece];
        double slope = ((((2 * h0) + h1) * near) - (h0 * far)) / (h0 + h1);
        return slope * near <= 0 ? 0
            : near * far <= 0 && Math.Abs(slope) > 3 * Math.Abs(near) ? 3 * near
            : slope;
    }
}
