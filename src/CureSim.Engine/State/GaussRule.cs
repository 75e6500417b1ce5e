namespace CureSim.Engine.State;

/// <summary>The Gauss quadrature rule of a given discrete measure: n nodes that match its first 2n − 1 moments.</summary>
/// <remarks>
/// Recurrence coefficients by the discretised Stieltjes procedure, nodes and weights from the Jacobi matrix by the implicit QL algorithm.
/// Source: Gautschi, Orthogonal Polynomials (2004), sections 2.2.3 and 3.1.1; Golub and Welsch, Math. Comp. 23 (1969) 221.
/// </remarks>
public static class GaussRule
{
    /// <summary>n nodes for points x with masses w (non-negative, not all at one point).</summary>
    public static Quadrature Of(ReadOnlySpan<double> x, ReadOnlySpan<double> w, int n)
    {
        double total = 0.0, mean = 0.0, square = 0.0;
        for (int i = 0; i < x.Length; i++)
        {
            total += w[i];
            mean += w[i] * x[i];
        }

        mean /= total;
        for (int i = 0; i < x.Length; i++)
        {
            square += w[i] * (x[i] - mean) * (x[i] - mean);
        }

        // Work in units of the standard deviation, so that the recurrence neither overflows nor loses digits.
        double scale = Math.Sqrt(square / total);
        if (!(scale > 0.0))
        {
            return Quadrature.Point(mean);
        }

        var (alpha, beta) = Recurrence(x, w, mean, scale, total, n);
        n = alpha.Length;
        var d = (double[])alpha.Clone();
        var e = new double[n];
        for (int k = 1; k < n; k++)
        {
            e[k - 1] = Math.Sqrt(beta[k]);
        }

        var first = new double[n];
        first[0] = 1.0;
        ImplicitQl(d, e, first);
        var order = Enumerable.Range(0, n).OrderBy(k => d[k]).ToArray();
        return new([.. order.Select(k => mean + (scale * d[k]))], [.. order.Select(k => first[k] * first[k])]);
    }

    private static (double[] Alpha, double[] Beta) Recurrence(ReadOnlySpan<double> x, ReadOnlySpan<double> w, double mean, double scale, double total, int n)
    {
        int m = x.Length;
        var before = new double[m];
        var now = new double[m];
        Array.Fill(now, 1.0);
        var alpha = new List<double>();
        var beta = new List<double>();
        double normBefore = 1.0;
        for (int k = 0; k < n; k++)
        {
            double norm = 0.0, first = 0.0;
            for (int i = 0; i < m; i++)
            {
                double p2 = w[i] / total * now[i] * now[i];
                norm += p2;
                first += p2 * ((x[i] - mean) / scale);
            }

            if (norm < 1e-22 * normBefore)
            {
                break; // fewer points than nodes
            }

            double a = first / norm, b = k == 0 ? 1.0 : norm / normBefore;
            alpha.Add(a);
            beta.Add(b);
            for (int i = 0; i < m; i++)
            {
                double next = ((((x[i] - mean) / scale) - a) * now[i]) - (k == 0 ? 0.0 : b * before[i]);
                before[i] = now[i];
                now[i] = next;
            }

            normBefore = norm;
        }

        return ([.. alpha], [.. beta]);
    }

    /// <summary>Eigenvalues of a symmetric tridiagonal matrix into d, first components of the eigenvectors into z.</summary>
    private static void ImplicitQl(double[] d, double[] e, double[] z)
    {
        int n = d.Length;
        for (int l = 0; l < n; l++)
        {
            for (int sweep = 0; sweep < 60; sweep++)
            {
                int m = l;
                while (m < n - 1 && Math.Abs(e[m]) > 1e-16 * (Math.Abs(d[m]) + Math.Abs(d[m + 1])))
                {
                    m++;
                }

                if (m == l)
                {
                    break;
                }

                double g = (d[l + 1] - d[l]) / (2.0 * e[l]), r = Math.Sqrt((g * g) + 1.0);
                g = d[m] - d[l] + (e[l] / (g + Math.CopySign(r, g)));
                double s = 1.0, c = 1.0, p = 0.0;
                for (int i = m - 1; i >= l; i--)
                {
                    double f = s * e[i], b = c * e[i];
                    r = Math.Sqrt((f * f) + (g * g));
                    e[i + 1] = r;
                    if (r == 0.0)
                    {
                        d[i + 1] -= p;
                        e[m] = 0.0;
                        break;
                    }

                    s = f / r;
                    c = g / r;
                    g = d[i + 1] - p;
                    r = ((d[i] - g) * s) + (2.0 * c * b);
                    p = s * r;
                    d[i + 1] = g + p;
                    g = (c * r) - b;
                    (z[i + 1], z[i]) = ((s * z[i]) + (c * z[i + 1]), (c * z[i]) - (s * z[i + 1]));
                }

                d[l] -= p;
                e[l] = g;
                e[m] = 0.0;
            }
        }
    }
}
