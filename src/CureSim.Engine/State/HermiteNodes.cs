namespace CureSim.Engine.State;

/// <summary>Nodes and weights of the Gauss–Hermite rule for the standard normal weight.</summary>
/// <remarks>Source: Abramowitz and Stegun 25.4.46, scaled by √2 and 1/√π; roots by Newton's method on the orthonormal recurrence.</remarks>
public static class HermiteNodes
{
    /// <summary>n nodes (ascending) and weights that sum to one.</summary>
    public static (double[] Scores, double[] Weights) For(int n)
    {
        var x = new double[n];
        var w = new double[n];
        // Roots are bracketed by scanning: neighbouring roots of the orthonormal Hermite function are never closer than about 1/√n.
        double reach = Math.Sqrt((2.0 * n) + 1.0) + 0.5, step = 0.05 / Math.Sqrt(n);
        int found = 0;
        double previous = Orthonormal(n, -reach).Value;
        for (double at = -reach + step; found < n; at += step)
        {
            double value = Orthonormal(n, at).Value;
            if (previous == 0.0 || (previous < 0.0) != (value < 0.0))
            {
                double root = at - (0.5 * step);
                for (int i = 0; i < 30; i++)
                {
                    var (v, slope) = Orthonormal(n, root);
                    double move = v / slope;
                    root -= move;
                    if (Math.Abs(move) < 1e-15 * reach)
                    {
                        break;
                    }
                }

                x[found] = root;
                double d = Orthonormal(n, root).Slope;
                w[found++] = 2.0 / (d * d);
            }

            previous = value;
        }

        double total = w.Sum();
        for (int i = 0; i < n; i++)
        {
            x[i] *= Math.Sqrt(2.0);
            w[i] /= total;
        }

        return (x, w);
    }

    private static (double Value, double Slope) Orthonormal(int n, double x)
    {
        double before = 0.0, value = Math.Pow(Math.PI, -0.25);
        for (int j = 0; j < n; j++)
        {
            (before, value) = (value, (x * Math.Sqrt(2.0 / (j + 1)) * value) - (Math.Sqrt((double)j / (j + 1)) * before));
        }

        return (value, Math.Sqrt(2.0 * n) * before);
    }
}
