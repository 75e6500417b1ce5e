using MathNet.Numerics.Integration;

namespace CureSim.Core.Statistics;

/// <summary>Integrals of smooth functions over finite ranges, by 20-point Gauss–Legendre panels halved until two halves agree with the whole.</summary>
/// <remarks>
/// Source: P. J. Davis and P. Rabinowitz, Methods of Numerical Integration, 2nd ed. (1984), sections 2.7 and 6.2.
/// The agreement of a 20-point panel with its two halves is a bound on the error of the panel, far above the error of the halves that are kept.
/// </remarks>
internal static class GaussQuadrature
{
    private const int Order = 20;
    private const int DeepestHalving = 40;
    private static readonly double[] Nodes = new GaussLegendreRule(-1.0, 1.0, Order).Abscissas;
    private static readonly double[] Weights = new GaussLegendreRule(-1.0, 1.0, Order).Weights;

    /// <summary>∫ f over [lower, upper]; the error is at most about <paramref name="relative"/> of ∫|f|.</summary>
    public static double Integrate(Func<double, double> f, double lower, double upper, double relative = 1e-13, int firstPanels = 4)
    {
        if (!(upper > lower))
        {
            return 0.0;
        }

        var work = new Stack<(double A, double B, double Whole, int Depth)>();
        double width = (upper - lower) / firstPanels;
        double scale = 0.0;
        for (int i = firstPanels - 1; i >= 0; i--)
        {
            double a = lower + (i * width);
            double b = i == firstPanels - 1 ? upper : lower + ((i + 1) * width);
            double whole = Panel(f, a, b, out double size);
            scale += size;
            work.Push((a, b, whole, 0));
        }

        double sum = 0.0;
        while (work.Count > 0)
        {
            var (a, b, whole, depth) = work.Pop();
            double middle = 0.5 * (a + b);
            double left = Panel(f, a, middle, out double leftSize);
            double right = Panel(f, middle, b, out double rightSize);
            scale = Math.Max(scale, leftSize + rightSize);
            if (Math.Abs(left + right - whole) <= relative * scale || depth >= DeepestHalving)
            {
                sum += left + right;
            }
            else
            {
                work.Push((middle, b, right, depth + 1));
                work.Push((a, middle, left, depth + 1));
            }
        }

        return sum;
    }

    private static double Panel(Func<double, double> f, double a, double b, out double size)
    {
        double centre = 0.5 * (a + b);
        double half = 0.5 * (b - a);
        double sum = 0.0;
        size = 0.0;
        for (int i = 0; i < Order; i++)
        {
            double value = Weights[i] * f(centre + (half * Nodes[i]));
            sum += value;
            size += Math.Abs(value);
        }

        size *= half;
        return half * sum;
    }
}
