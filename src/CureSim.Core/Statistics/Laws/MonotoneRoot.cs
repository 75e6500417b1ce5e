namespace CureSim.Core.Statistics;

/// <summary>The root of a continuous function between two points of opposite sign.</summary>
/// <remarks>
/// Source: R. P. Brent, Algorithms for Minimization without Derivatives (1973), chapter 4 (procedure zero).
/// The root is found to the last few bits of its own size: no absolute tolerance that would spoil small roots.
/// </remarks>
internal static class MonotoneRoot
{
    private const int MaximumSteps = 300;
    private const double Epsilon = 2.220446049250313e-16;

    /// <summary>x in [lower, upper] with f(x) = 0.</summary>
    /// <exception cref="ArithmeticException">f has the same sign at both ends, or is not a number.</exception>
    public static double Find(Func<double, double> f, double lower, double upper)
    {
        double a = lower;
        double b = upper;
        double fa = f(a);
        double fb = f(b);
        if (fa == 0.0)
        {
            return a;
        }

        if (fb == 0.0)
        {
            return b;
        }

        if (!(fa < 0.0 && fb > 0.0) && !(fa > 0.0 && fb < 0.0))
        {
            throw new ArithmeticException(FormattableString.Invariant($"No change of sign between {a:R} and {b:R}."));
        }

        double c = a;
        double fc = fa;
        double step = b - a;
        double previous = step;
        for (int i = 0; i < MaximumSteps; i++)
        {
            if (Math.Abs(fc) < Math.Abs(fb))
            {
                (a, b, c) = (b, c, b);
                (fa, fb, fc) = (fb, fc, fb);
            }

            double tolerance = (2.0 * Epsilon * Math.Abs(b)) + double.Epsilon;
            double half = 0.5 * (c - b);
            if (Math.Abs(half) <= tolerance || fb == 0.0)
            {
                return b;
            }

            if (Math.Abs(previous) < tolerance || Math.Abs(fa) <= Math.Abs(fb))
            {
                step = half;
                previous = half;
            }
            else
            {
                (step, previous) = Interpolated(a, b, c, fa, fb, fc, half, tolerance, step, previous);
            }

            a = b;
            fa = fb;
            b += Math.Abs(step) > tolerance ? step : Math.CopySign(tolerance, half);
            fb = f(b);
            if (double.IsNaN(fb))
            {
                throw new ArithmeticException(FormattableString.Invariant($"The function is not a number at {b:R}."));
            }

            if (Math.Sign(fb) == Math.Sign(fc))
            {
                c = a;
                fc = fa;
                step = b - a;
                previous = step;
            }
        }

        throw new ArithmeticException(FormattableString.Invariant($"No root to full precision within {MaximumSteps} steps."));
    }

    /// <summary>Doubles the distance from <paramref name="start"/> until the sign differs from that at the start; then finds the root.</summary>
    public static double FindOutward(Func<double, double> f, double start, double firstStep)
    {
        double near = start;
        bool positive = f(start) > 0.0;
        double step = firstStep;
        for (int i = 0; i < 1100; i++)
        {
            double far = start + step;
            double value = f(far);
            if (value == 0.0)
            {
                return far;
            }

            if (value > 0.0 != positive)
            {
                return Find(f, Math.Min(near, far), Math.Max(near, far));
            }

            near = far;
            step *= 2.0;
        }

        throw new ArithmeticException(FormattableString.Invariant($"No change of sign outward from {start:R}."));
    }

    private static (double Step, double Previous) Interpolated(
        double a, double b, double c, double fa, double fb, double fc, double half, double tolerance, double step, double previous)
    {
        double s = fb / fa;
        double p;
        double q;
        if (a == c)
        {
            p = 2.0 * half * s;
            q = 1.0 - s;
        }
        else
        {
            double u = fa / fc;
            double v = fb / fc;
            p = s * ((2.0 * half * u * (u - v)) - ((b - a) * (v - 1.0)));
            q = (u - 1.0) * (v - 1.0) * (s - 1.0);
        }

        if (p > 0.0)
        {
            q = -q;
        }
        else
        {
            p = -p;
        }

        bool accept = 2.0 * p < (3.0 * half * q) - Math.Abs(tolerance * q) && p < Math.Abs(0.5 * previous * q);
        return accept ? (p / q, step) : (half, half);
    }
}
