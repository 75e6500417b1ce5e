using MathNet.Numerics.LinearAlgebra;

namespace CureSim.Core.Statistics;

/// <summary>Weighted nonlinear least squares with limits on the parameters.</summary>
/// <remarks>
/// Minimises Σ w (y − f(θ))² by a damped Gauss–Newton step δ that minimises |W½(r − Jδ)|² + μ|Dδ|², D the largest column norms of W½J so far
/// (scale-free), solved by QR of the stacked system so that JᵀJ is never formed; μ, and a largest step |Dδ| (at first |Dθ|), by the gain ratio. A parameter at a limit whose gradient points
/// outwards is held there for the step; a step is cut back to the limits. Ends when neither a step nor the sum of squares can change in double precision.
/// Source: K. Levenberg, Quart. Appl. Math. 2 (1944) 164; D. W. Marquardt, SIAM J. Appl. Math. 11 (1963) 431; scaling: J. J. Moré, Lecture Notes in
/// Mathematics 630 (1978) 105; gain ratio: K. Madsen, H. B. Nielsen and O. Tingleff, Methods for Non-Linear Least Squares Problems (2004) (recalled from memory).
/// Checked against: NIST StRD, rows STRD-* (certified parameters and standard deviations from both starts).
/// </remarks>
public static class NonlinearFit
{
    private const int MostSteps = 5000;
    private const double FirstDamping = 1e-3;
    private const double GoodGain = 0.75, PoorGain = 0.25;
    private const double LeastStep = 1e-15;   // of the parameters' size: a few units of the last place
    private const double RankTolerance = 1e-13; // smallest over largest diagonal of R, columns scaled to length 1

    /// <summary>Fits a curve.</summary>
    /// <param name="curve">The curve with its derivatives.</param>
    /// <param name="y">n readings.</param>
    /// <param name="weights">n weights above zero, 1/variance up to a factor; empty: all 1.</param>
    /// <param name="start">p values to start from, within the limits.</param>
    /// <param name="lower">p lower limits, −∞ for none; empty: none.</param>
    /// <param name="upper">p upper limits, +∞ for none; empty: none.</param>
    public static NonlinearFitResult Fit(
        ResponseCurve curve, ReadOnlySpan<double> y, ReadOnlySpan<double> weights, ReadOnlySpan<double> start, ReadOnlySpan<double> lower = default, ReadOnlySpan<double> upper = default)
    {
        ArgumentNullException.ThrowIfNull(curve);
        int n = y.Length, p = start.Length;
        if (n < p)
        {
            return NonlinearFitResult.Refuse(FormattableString.Invariant($"{n} readings are too few for {p} parameters"), p, n);
        }

        var work = new Work(curve, y, weights, start, lower, upper);
        return work.Run() is { } reason ? NonlinearFitResult.Refuse(reason, p, n) : work.Conclude();
    }

    private sealed class Work
    {
        private readonly ResponseCurve curve;
        private readonly int n, p;
        private readonly double[] y, root, low, high, scale;
        private double[] theta, residuals, jacobian;
        private double sum;
        private int steps;

        public Work(ResponseCurve curve, ReadOnlySpan<double> y, ReadOnlySpan<double> weights, ReadOnlySpan<double> start, ReadOnlySpan<double> lower, ReadOnlySpan<double> upper)
        {
            this.curve = curve;
            n = y.Length;
            p = start.Length;
            this.y = y.ToArray();
            root = new double[n];
            for (int i = 0; i < n; i++)
            {
                root[i] = weights.IsEmpty ? 1.0 : Math.Sqrt(weights[i]);
            }

            low = lower.IsEmpty ? [.. Enumerable.Repeat(double.NegativeInfinity, p)] : lower.ToArray();
            high = upper.IsEmpty ? [.. Enumerable.Repeat(double.PositiveInfinity, p)] : upper.ToArray();
            theta = start.ToArray();
            for (int j = 0; j < p; j++)
            {
                theta[j] = Math.Clamp(theta[j], low[j], high[j]);
            }

            scale = new double[p];
            residuals = new double[n];
            jacobian = new double[n * p];
        }

        // Null when it ended at a minimum.
        public string? Run()
        {
            sum = Evaluate(theta, residuals, jacobian);
            if (!double.IsFinite(sum))
            {
                return "the curve has no finite value at the start";
            }

            double damping = FirstDamping, factor = 2.0;
            double? radius = null; // of the first step: not farther than the start is from zero
            var next = new double[p];
            var nextResiduals = new double[n];
            var nextJacobian = new double[n * p];
            for (steps = 1; steps <= MostSteps; steps++)
            {
                Rescale();
                int[] free = FreeOnes();
                if (free.Length == 0 || sum == 0.0)
                {
                    return null;
                }

                radius ??= Math.Sqrt(theta.Select((v, j) => scale[j] * v * scale[j] * v).Sum()) is var size and > 0.0 ? size : 1.0;
                var (step, predicted, length) = Step(free, damping);
                while (length > radius)
                {
                    damping *= 4.0;
                    (step, predicted, length) = Step(free, damping);
                }

                bool moved = false;
                for (int j = 0; j < p; j++)
                {
                    next[j] = Math.Clamp(theta[j] + step[j], low[j], high[j]);
                    moved |= Math.Abs(next[j] - theta[j]) > LeastStep * Math.Max(Math.Abs(theta[j]), 1e-300);
                }

                if (!moved)
                {
                    return null;
                }

                double nextSum = Evaluate(next, nextResiduals, nextJacobian);
                double gain = double.IsFinite(nextSum) && predicted > 0.0 ? (sum - nextSum) / predicted : -1.0;
                radius = gain > GoodGain ? Math.Max(radius.Value, 2.0 * length) : gain < PoorGain ? Math.Max(0.5 * length, double.Epsilon) : radius;
                if (nextSum < sum)
                {
                    double relative = (sum - nextSum) / sum;
                    (theta, next) = (next, theta);
                    (residuals, nextResiduals) = (nextResiduals, residuals);
                    (jacobian, nextJacobian) = (nextJacobian, jacobian);
                    sum = nextSum;
                    damping *= Math.Max(1.0 / 3.0, 1.0 - Math.Pow((2.0 * gain) - 1.0, 3.0));
                    damping = Math.Max(damping, 1e-30);
                    factor = 2.0;
                    if (relative < 1e-16 && predicted < 1e-15 * sum)
                    {
                        return null;
                    }
                }
                else
                {
                    if (damping > 1e30 || predicted <= 1e-17 * sum)
                    {
                        return null;
                    }

                    damping *= factor;
                    factor *= 2.0;
                }
            }

            return "the sum of squares did not reach a minimum";
        }

        public NonlinearFitResult Conclude()
        {
            int[] free = [.. Enumerable.Range(0, p).Where(j => theta[j] > low[j] && theta[j] < high[j])];
            var covariance = Matrix<double>.Build.Dense(p, p);
            var plain = new double[n];
            for (int i = 0; i < n; i++)
            {
                plain[i] = residuals[i] / root[i];
            }

            var result = new NonlinearFitResult(theta, covariance, plain, sum, free.Length, [.. Enumerable.Range(0, p).Select(j => !free.Contains(j))], steps);
            if (free.Length == 0)
            {
                return result;
            }

            // Columns of length 1, so that the units of the parameters do not look like a lack of information.
            var j0 = Matrix<double>.Build.Dense(n, free.Length, (i, k) => jacobian[(i * p) + free[k]]);
            double[] norms = [.. j0.EnumerateColumns().Select(c => c.L2Norm())];
            if (norms.Any(v => !(v > 0.0)))
            {
                return result with { Withheld = "the readings say nothing about one of the parameters" };
            }

            var r = Matrix<double>.Build.Dense(n, free.Length, (i, k) => j0[i, k] / norms[k]).QR(MathNet.Numerics.LinearAlgebra.Factorization.QRMethod.Thin).R;
            double[] diagonal = [.. r.Diagonal().Select(Math.Abs)];
            if (diagonal.Min() < RankTolerance * diagonal.Max())
            {
                return result with { Withheld = "the readings cannot tell the parameters apart" };
            }

            var inverse = r.Inverse();
            var unscaled = inverse * inverse.Transpose();
            for (int a = 0; a < free.Length; a++)
            {
                for (int b = 0; b < free.Length; b++)
                {
                    covariance[free[a], free[b]] = unscaled[a, b] / (norms[a] * norms[b]);
                }
            }

            return result;
        }

        private double Evaluate(double[] at, double[] into, double[] derivatives)
        {
            curve(at, into, derivatives);
            double total = 0.0;
            for (int i = 0; i < n; i++)
            {
                into[i] = root[i] * (y[i] - into[i]);
                total += into[i] * into[i];
                for (int j = 0; j < p; j++)
                {
                    derivatives[(i * p) + j] *= root[i];
                }
            }

            return total;
        }

        private void Rescale()
        {
            for (int j = 0; j < p; j++)
            {
                double squares = 0.0;
                for (int i = 0; i < n; i++)
                {
                    double d = jacobian[(i * p) + j];
                    squares += d * d;
                }

                scale[j] = Math.Max(scale[j], Math.Sqrt(squares));
            }
        }

        // −½ gradient is Jᵀr; a parameter at a limit that it pushes outwards stays.
        private int[] FreeOnes() => [.. Enumerable.Range(0, p).Where(j =>
        {
            double push = 0.0;
            for (int i = 0; i < n; i++)
            {
                push += jacobian[(i * p) + j] * residuals[i];
            }

            return !(theta[j] <= low[j] && push <= 0.0) && !(theta[j] >= high[j] && push >= 0.0);
        })];

        // Least squares by Householder reflections (G. H. Golub and C. F. Van Loan, Matrix Computations, section 5.3); a is overwritten. Small and often: no library call pays here.
        private static double[] Solve(double[] a, double[] b, int rows, int columns)
        {
            var x = new double[columns];
            var diagonal = new double[columns];
            for (int k = 0; k < columns; k++)
            {
                var v = a.AsSpan((k * rows) + k, rows - k);
                double norm = 0.0;
                foreach (double e in v)
                {
                    norm += e * e;
                }

                norm = Math.Sqrt(norm);
                double alpha = v[0] > 0.0 ? -norm : norm;
                diagonal[k] = alpha;
                if (norm == 0.0)
                {
                    continue;
                }

                v[0] -= alpha;
                double half = -alpha * v[0]; // |v|²/2
                for (int j = k + 1; j < columns; j++)
                {
                    Reflect(v, half, a.AsSpan((j * rows) + k, rows - k));
                }

                Reflect(v, half, b.AsSpan(k, rows - k));
            }

            for (int k = columns - 1; k >= 0; k--)
            {
                double sum = b[k];
                for (int j = k + 1; j < columns; j++)
                {
                    sum -= a[(j * rows) + k] * x[j];
                }

                x[k] = diagonal[k] == 0.0 ? 0.0 : sum / diagonal[k];
            }

            return x;
        }

        private static void Reflect(ReadOnlySpan<double> v, double half, Span<double> w)
        {
            double dot = 0.0;
            for (int i = 0; i < w.Length; i++)
            {
                dot += v[i] * w[i];
            }

            dot /= half;
            for (int i = 0; i < w.Length; i++)
            {
                w[i] -= dot * v[i];
            }
        }

        private (double[] Step, double Predicted, double Length) Step(int[] free, double damping)
        {
            int q = free.Length;
            double root0 = Math.Sqrt(damping);
            int rows = n + q;
            var stacked = new double[rows * q]; // column by column
            var right = new double[rows];
            residuals.CopyTo(right, 0);
            for (int k = 0; k < q; k++)
            {
                for (int i = 0; i < n; i++)
                {
                    stacked[(k * rows) + i] = jacobian[(i * p) + free[k]];
                }

                stacked[(k * rows) + n + k] = root0 * Math.Max(scale[free[k]], 1e-300);
            }

            double[] move = Solve(stacked, right, rows, q);
            var step = new double[p];
            double predicted = 0.0, length = 0.0;
            for (int k = 0; k < q; k++)
            {
                step[free[k]] = move[k];
                length += scale[free[k]] * scale[free[k]] * move[k] * move[k];
            }

            // |r|² − |r − Jδ|² = |Jδ|² + 2μ|Dδ|² at the damped minimum.
            predicted = 2.0 * damping * length;
            for (int i = 0; i < n; i++)
            {
                double change = 0.0;
                for (int k = 0; k < q; k++)
                {
                    change += jacobian[(i * p) + free[k]] * move[k];
                }

                predicted += change * change;
            }

            return (step, predicted, Math.Sqrt(length));
        }
    }
}
