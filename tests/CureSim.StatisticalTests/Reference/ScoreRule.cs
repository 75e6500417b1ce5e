using CureSim.Core.Numerics;

namespace CureSim.StatisticalTests.Reference;

/// <summary>Quadrature over a standard normal score: nodes with weights that include the normal density.</summary>
internal static class ScoreRule
{
    /// <summary>Scores beyond this have probability 10⁻¹⁹ and are left out.</summary>
    public const double EndScore = 9.0;

    private const int PointsAPanel = 12;
    private const double PanelSteps = 6.0; // so that a panel has twice the nodes that the trapezoidal rule has there
    private const double ScanStep = 0.0625;
    private static readonly (double X, double Weight)[] Legendre = LegendreRule(PointsAPanel);

    /// <summary>The trapezoidal rule of step <paramref name="h"/>: converges faster than any power for a smooth integrand.</summary>
    public static IReadOnlyList<(double Score, double Weight)> Smooth(double h)
    {
        int half = (int)Math.Floor(EndScore / h);
        return [.. Enumerable.Range(-half, (2 * half) + 1).Select(i => (i * h, h * BlockMath.NormalDensity(i * h)))];
    }

    /// <summary>
    /// A rule for an integrand that is smooth only while <paramref name="regime"/> stays the same: Gauss–Legendre panels between its changes;
    /// the trapezoidal rule when it never changes.
    /// </summary>
    public static IReadOnlyList<(double Score, double Weight)> Piecewise(double h, Func<double, int> regime)
    {
        double[] ends = [-EndScore, .. Changes(regime, -EndScore, EndScore, ScanStep), EndScore];
        if (ends.Length == 2)
        {
            return Smooth(h);
        }

        var nodes = new List<(double, double)>();
        for (int i = 1; i < ends.Length; i++)
        {
            int panels = (int)Math.Ceiling((ends[i] - ends[i - 1]) / (PanelSteps * h));
            double half = (ends[i] - ends[i - 1]) / (2 * panels);
            for (int panel = 0; panel < panels; panel++)
            {
                double centre = ends[i - 1] + (((2 * panel) + 1) * half);
                nodes.AddRange(Legendre.Select(l => (centre + (half * l.X), half * l.Weight * BlockMath.NormalDensity(centre + (half * l.X)))));
            }
        }

        return nodes;
    }

    /// <summary>Scores at which a regime changes, each to the last bits; a change that is undone between two scanned scores is missed.</summary>
    public static IEnumerable<double> Changes(Func<double, int> regime, double from, double to, double step)
    {
        int steps = (int)Math.Round((to - from) / step);
        int last = regime(from);
        for (int i = 1; i <= steps; i++)
        {
            double a = from + ((i - 1) * step);
            double b = from + (i * step);
            int next = regime(b);
            if (next == last)
            {
                continue;
            }

            for (double middle = 0.5 * (a + b); middle > a && middle < b; middle = 0.5 * (a + b))
            {
                (a, b) = regime(middle) == last ? (middle, b) : (a, middle);
            }

            yield return b;
            last = next;
        }
    }

    // Roots of the Legendre polynomial by Newton's method from Chebyshev's guess; weights 2/((1 − x²)·P′²).
    private static (double X, double Weight)[] LegendreRule(int n) => [.. Enumerable.Range(1, n).Select(i =>
    {
        double x = Math.Cos(Math.PI * (i - 0.25) / (n + 0.5));
        double slope = 0;
        for (int iteration = 0; iteration < 100; iteration++)
        {
            double p0 = 1, p1 = x;
            for (int k = 2; k <= n; k++)
            {
                (p0, p1) = (p1, ((((2 * k) - 1) * x * p1) - ((k - 1) * p0)) / k);
            }

            slope = n * ((x * p1) - p0) / ((x * x) - 1);
            x -= p1 / slope;
        }

        return (x, 2 / ((1 - (x * x)) * slope * slope));
    })];
}
