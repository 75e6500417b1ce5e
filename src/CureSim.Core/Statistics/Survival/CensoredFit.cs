using MathNet.Numerics.LinearAlgebra;

namespace CureSim.Core.Statistics;

/// <summary>Maximum likelihood of a lifetime law with right-censored times and covariates.</summary>
/// <remarks>
/// ln t = β₀ + β·x + σε. An event adds ln f(z) − ln σ − ln t, a censoring ln S(z), z = (ln t − β₀ − β·x)/σ. Newton's method in (β, ln σ) with exact
/// second derivatives; a step that does not climb is halved, a Hessian that is not negative definite is damped.
/// Source: J. D. Kalbfleisch and R. L. Prentice (1980), sections 3.6 and 3.8; W. Q. Meeker and L. A. Escobar, Statistical Methods for Reliability Data (1998), chapter 8.
/// Checked against: rows SUR-WEI-MLE, SUR-KM-SUM and R survival (tests/data/reference/statistics-survival.csv).
/// </remarks>
public static class CensoredFit
{
    private const int MaximumSteps = 200;

    /// <summary>Fits one law.</summary>
    /// <param name="family">Weibull, lognormal or exponential.</param>
    /// <param name="times">Times above zero.</param>
    /// <param name="events">True: event; false: censored.</param>
    /// <param name="covariates">One row for each subject, without a column for the intercept; null for none.</param>
    public static CensoredFitResult Fit(
        LifetimeFamily family, ReadOnlySpan<double> times, ReadOnlySpan<bool> events, double[,]? covariates = null)
    {
        int n = times.Length;
        if (events.Length != n || (covariates is not null && covariates.GetLength(0) != n))
        {
            throw new ArgumentException("Times, events and covariates must have one entry for each subject.");
        }

        double[] y = new double[n];
        bool[] event_ = events.ToArray();
        long failed = 0;
        for (int i = 0; i < n; i++)
        {
            if (!(times[i] > 0.0) || double.IsInfinity(times[i]))
            {
                return CensoredFitResult.Refuse(family, "a time is not above zero", n, failed);
            }

            y[i] = Math.Log(times[i]);
            failed += events[i] ? 1 : 0;
        }

        bool scaleFree = family != LifetimeFamily.Exponential;
        int p = 1 + (covariates?.GetLength(1) ?? 0);
        if (failed < p + (scaleFree ? 1 : 0))
        {
            return CensoredFitResult.Refuse(family, FormattableString.Invariant($"{failed} events are too few for {p + (scaleFree ? 1 : 0)} parameters"), n, failed);
        }

        var model = new Likelihood(family, y, event_, covariates, p, scaleFree);
        return Maximise(model, family, n, failed);
    }

    private static CensoredFitResult Maximise(Likelihood model, LifetimeFamily family, long n, long failed)
    {
        double[] theta = model.Start();
        double value = model.Evaluate(theta, out double[] gradient, out double[,] hessian);
        for (int step = 1; step <= MaximumSteps; step++)
        {
            Vector<double> g = Vector<double>.Build.DenseOfArray(gradient);
            Vector<double> move = Direction(Matrix<double>.Build.DenseOfArray(hessian), g);
            double gain = move.DotProduct(g);
            double factor = 1.0;
            double[] next = theta;
            double nextValue = double.NegativeInfinity;
            double[] nextGradient = gradient;
            double[,] nextHessian = hessian;
            for (int half = 0; half < 60 && !(nextValue >= value - (1e-13 * Math.Abs(value))); half++, factor *= 0.5)
            {
                double f = factor;
                next = [.. theta.Select((t, i) => t + (f * move[i]))];
                nextValue = model.Evaluate(next, out nextGradient, out nextHessian);
            }

            if (!double.IsFinite(nextValue))
            {
                break;
            }

            (theta, value, gradient, hessian) = (next, nextValue, nextGradient, nextHessian);
            if (model.ScaleFree && theta[^1] < -25.0)
            {
                return CensoredFitResult.Refuse(family, "all events lie on the fitted line: the scale has no maximum above zero", n, failed);
            }

            // The gain of a full Newton step is twice the distance to the maximum in log-likelihood.
            if (Math.Abs(gain) < 1e-18 * (1.0 + Math.Abs(value)) || (gain < 1e-12 && step > 1 && factor < 1e-10))
            {
                return Conclude(model, family, theta, value, hessian, step, n, failed);
            }
        }

        return gradient.All(g => Math.Abs(g) < 1e-6 * n)
            ? Conclude(model, family, theta, value, hessian, MaximumSteps, n, failed)
            : CensoredFitResult.Refuse(family, "the likelihood did not reach a maximum", n, failed);
    }

    private static Vector<double> Direction(Matrix<double> hessian, Vector<double> gradient)
    {
        double size = hessian.L1Norm();
        for (double damping = 0.0; ; damping = damping == 0.0 ? 1e-6 * size : damping * 10.0)
        {
            Matrix<double> negative = -hessian + (damping * Matrix<double>.Build.DenseIdentity(hessian.RowCount));
            try
            {
                return negative.Cholesky().Solve(gradient);
            }
            catch (ArgumentException) when (damping < 1e12 * size)
            {
                // Not positive definite: damp more.
            }
        }
    }

    private static CensoredFitResult Conclude(
        Likelihood model, LifetimeFamily family, double[] theta, double value, double[,] hessian, int steps, long n, long failed)
    {
        Matrix<double> covariance;
        try
        {
            covariance = (-Matrix<double>.Build.DenseOfArray(hessian)).Cholesky().Solve(Matrix<double>.Build.DenseIdentity(theta.Length));
        }
        catch (ArgumentException)
        {
            return CensoredFitResult.Refuse(family, "the information is singular: a covariate is a combination of others", n, failed);
        }

        // Variance times information: 1 for unrelated parameters; near the inverse of rounding the data cannot tell them apart.
        for (int i = 0; i < theta.Length; i++)
        {
            if (!(covariance[i, i] * -hessian[i, i] < 1e12))
            {
                return CensoredFitResult.Refuse(family, "the information is singular: a covariate is a combination of others", n, failed);
            }
        }

        int p = model.ScaleFree ? theta.Length - 1 : theta.Length;
        Estimate[] beta = [.. Enumerable.Range(0, p).Select(i => Estimate.Of(theta[i], Math.Sqrt(covariance[i, i]), failed))];
        Estimate scale = model.ScaleFree ? Estimate.Of(theta[^1], Math.Sqrt(covariance[p, p]), failed) : Estimate.Exact(0.0, failed);
        return new CensoredFitResult(family, beta, scale, covariance.ToArray(), value, steps, n, failed);
    }

    private sealed class Likelihood(LifetimeFamily family, double[] y, bool[] failed, double[,]? covariates, int p, bool scaleFree)
    {
        public bool ScaleFree => scaleFree;

        public double[] Start()
        {
            SampleMoments m = SampleMoments.Of(y);
            double[] theta = new double[p + (scaleFree ? 1 : 0)];
            theta[0] = m.Mean;
            if (scaleFree)
            {
                theta[^1] = Math.Log(Math.Max(m.StandardDeviation ?? 1.0, 1e-3));
            }

            return theta;
        }

        public double Evaluate(double[] theta, out double[] gradient, out double[,] hessian)
        {
            int size = theta.Length;
            double[] first = new double[size];
            double[,] second = new double[size, size];
            double logSigma = scaleFree ? theta[^1] : 0.0;
            double inverse = Math.Exp(-logSigma);
            double sum = 0.0;
            double[] dz = new double[p];
            for (int i = 0; i < y.Length; i++)
            {
                double location = theta[0];
                dz[0] = -inverse;
                for (int k = 1; k < p; k++)
                {
                    location += theta[k] * covariates![i, k - 1];
                    dz[k] = -inverse * covariates[i, k - 1];
                }

                double z = (y[i] - location) * inverse;
                var (value, g, h) = Term(z, failed[i]);
                sum += value - (failed[i] ? logSigma + y[i] : 0.0);
                for (int k = 0; k < p; k++)
                {
                    first[k] += g * dz[k];
                    for (int l = 0; l <= k; l++)
                    {
                        second[k, l] += h * dz[k] * dz[l];
                    }
                }

                if (scaleFree)
                {
                    first[p] -= (g * z) + (failed[i] ? 1.0 : 0.0);
                    second[p, p] += ((h * z) + g) * z;
                    for (int k = 0; k < p; k++)
                    {
                        second[p, k] -= ((h * z) + g) * dz[k];
                    }
                }
            }

            for (int k = 0; k < size; k++)
            {
                for (int l = 0; l < k; l++)
                {
                    second[l, k] = second[k, l];
                }
            }

            gradient = first;
            hessian = second;
            return sum;
        }

        /// <summary>ln f or ln S at z and its first two derivatives.</summary>
        private (double Value, double First, double Second) Term(double z, bool isEvent)
        {
            if (family == LifetimeFamily.Lognormal)
            {
                if (isEvent)
                {
                    return ((-0.5 * z * z) - 0.91893853320467274178, -z, -1.0);
                }

                double r = z > 0.0 ? 0.39894228040143267794 / NormalLaw.ScaledTail(z) : NormalLaw.Density(z) / NormalLaw.Survival(z);
                return (NormalLaw.LogCdf(-z), -r, -r * (r - z));
            }

            double e = Math.Exp(z);
            return isEvent ? (z - e, 1.0 - e, -e) : (-e, -e, -e);
        }
    }
}
