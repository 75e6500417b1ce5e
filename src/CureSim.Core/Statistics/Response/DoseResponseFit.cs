namespace CureSim.Core.Statistics;

/// <summary>
/// A response that rises with x = I^p·t to a plateau: y = S/(1 + (x₅₀/x)^b), fitted by least squares, with a lower tolerance bound at any (I, t).
/// </summary>
/// <remarks>
/// Parameters are ln S, ln x₅₀, ln b and p; p is held at 1 when all irradiances are alike, since nothing then tells it. Levenberg–Marquardt from several starts.
/// Interval of p: profile likelihood, RSS(p) ≤ RSS·(1 + t²/ν), t the Student quantile (D. M. Bates, D. G. Watts, Nonlinear Regression Analysis, 1988, section 6.1).
/// Tolerance bound: ŷ − k·s, k = √h·t′(C; ν, z_R/√h), h the leverage of the linearised model (exact for a straight line: G. J. Lieberman, R. G. Miller, Biometrika 50 (1963) 155).
/// The shape is an assumption; <see cref="LackOfFitP"/> says whether the data speak against it.
/// </remarks>
public sealed class DoseResponseFit
{
    private readonly double[] irradiance;
    private readonly double[] time;
    private readonly double[] response;
    private readonly double[] theta;
    private readonly double[,] inverse;
    private readonly bool hasExponent;

    private DoseResponseFit(double[] irradiance, double[] time, double[] response, double[] theta, double rss, bool hasExponent)
    {
        (this.irradiance, this.time, this.response, this.theta, this.hasExponent) = (irradiance, time, response, theta, hasExponent);
        ResidualSumOfSquares = rss;
        Degrees = response.Length - (hasExponent ? 4 : 3);
        ResidualDeviation = Math.Sqrt(rss / Degrees);
        inverse = Inverse(Normal(theta, hasExponent ? 4 : 3));
        ExponentInterval = hasExponent ? Profile() : (double.NaN, double.NaN);
        LackOfFitP = LackOfFit();
    }

    /// <summary>Plateau S, unit of the response.</summary>
    public double Plateau => Math.Exp(theta[0]);

    /// <summary>x₅₀ with I in the unit given and t in s.</summary>
    public double Half => Math.Exp(theta[1]);

    /// <summary>Steepness b.</summary>
    public double Steepness => Math.Exp(theta[2]);

    /// <summary>p; 1 when it cannot be told.</summary>
    public double Exponent => theta[3];

    /// <summary>True when irradiances differ, so that p was fitted.</summary>
    public bool ExponentIsFitted => hasExponent;

    /// <summary>95 % profile interval of p; not-a-number when it was not fitted, infinite where the data set no limit.</summary>
    public (double Lower, double Upper) ExponentInterval { get; }

    /// <summary>Residual sum of squares.</summary>
    public double ResidualSumOfSquares { get; }

    /// <summary>Residual standard deviation.</summary>
    public double ResidualDeviation { get; }

    /// <summary>Its degrees of freedom.</summary>
    public int Degrees { get; }

    /// <summary>p-value of the F test of lack of fit against the scatter of repeated settings; null when no setting is repeated.</summary>
    public double? LackOfFitP { get; }

    /// <summary>Fits; null when there are too few points or no rise to be seen.</summary>
    /// <param name="irradiance">I &gt; 0.</param>
    /// <param name="time">t &gt; 0, s.</param>
    /// <param name="response">y.</param>
    public static DoseResponseFit? Of(double[] irradiance, double[] time, double[] response)
    {
        ArgumentNullException.ThrowIfNull(irradiance);
        ArgumentNullException.ThrowIfNull(time);
        ArgumentNullException.ThrowIfNull(response);
        bool exponent = irradiance.Max() > irradiance.Min() * 1.02;
        int settings = irradiance.Zip(time).Distinct().Count();
        if (response.Length < 8 || settings < (exponent ? 5 : 4) || response.Max() <= 0.0)
        {
            return null;
        }

        (double[] Theta, double Rss)? best = null;
        foreach (double p in exponent ? (double[])[0.4, 0.7, 1.0] : [1.0])
        {
            foreach (double b in (double[])[1.5, 4.0, 10.0])
            {
                double[] x = [.. irradiance.Zip(time, (i, t) => Math.Pow(i, p) * t)];
                double plateau = response.Max(), half = x.Zip(response).Where(v => v.Second < 0.6 * plateau).Select(v => v.First).DefaultIfEmpty(0.5 * x.Min()).Max();
                var fit = Minimise([Math.Log(plateau), Math.Log(half), Math.Log(b), p], irradiance, time, response, exponent ? 4 : 3);
                best = best is { } f && f.Rss <= fit.Rss ? f : fit;
            }
        }

        var (theta, rss) = best!.Value;
        bool usable = theta.All(double.IsFinite) && rss > 0.0 && Math.Abs(theta[0] - Math.Log(response.Max())) < 2.0 && Math.Abs(theta[2]) < 5.0;
        try
        {
            return usable ? new(irradiance, time, response, theta, rss, exponent) : null;
        }
        catch (ArithmeticException)
        {
            // The normal equations are singular: the data do not tell the parameters.
            return null;
        }
    }

    /// <summary>Fitted response.</summary>
    public double At(double i, double t) => Model(theta, i, t);

    /// <summary>Bound below which, with the confidence, at most 1 − reliability of single responses lie.</summary>
    public double LowerTolerance(double i, double t, double confidence, double reliability)
    {
        int n = hasExponent ? 4 : 3;
        double[] g = Gradient(theta, i, t, n);
        double h = 0.0;
        for (int a = 0; a < n; a++)
        {
            for (int b = 0; b < n; b++)
            {
                h += g[a] * inverse[a, b] * g[b];
            }
        }

        h = Math.Max(1e-6, h);
        double root = Math.Sqrt(h), k = root * NoncentralTLaw.Quantile(confidence, Degrees, NormalLaw.Quantile(reliability) / root);
        return At(i, t) - (k * ResidualDeviation);
    }

    private static double Model(double[] theta, double i, double t) => Math.Exp(theta[0]) / (1.0 + Math.Exp(Math.Exp(theta[2]) * (theta[1] - (theta[3] * Math.Log(i)) - Math.Log(t))));

    private static double[] Gradient(double[] theta, double i, double t, int n)
    {
        double b = Math.Exp(theta[2]), u = theta[1] - (theta[3] * Math.Log(i)) - Math.Log(t), e = Math.Exp(b * u), s = Math.Exp(theta[0]) / (1.0 + e), d = -s * e / (1.0 + e);
        double[] all = [s, d * b, d * b * u, -d * b * Math.Log(i)];
        return all[..n];
    }

    private double[,] Normal(double[] at, int n) => Normal(at, irradiance, time, n);

    private static double[,] Normal(double[] at, double[] irradiance, double[] time, int n)
    {
        var a = new double[n, n];
        for (int k = 0; k < time.Length; k++)
        {
            double[] g = Gradient(at, irradiance[k], time[k], n);
            for (int i = 0; i < n; i++)
            {
                for (int j = 0; j < n; j++)
                {
                    a[i, j] += g[i] * g[j];
                }
            }
        }

        return a;
    }

    private static double Rss(double[] theta, double[] irradiance, double[] time, double[] response)
    {
        double sum = 0.0;
        for (int k = 0; k < response.Length; k++)
        {
            double r = response[k] - Model(theta, irradiance[k], time[k]);
            sum += r * r;
        }

        return double.IsFinite(sum) ? sum : double.PositiveInfinity;
    }

    private static (double[] Theta, double Rss) Minimise(double[] start, double[] irradiance, double[] time, double[] response, int n)
    {
        double[] theta = [.. start];
        double rss = Rss(theta, irradiance, time, response), damping = 1e-2;
        for (int step = 0; step < 300 && damping < 1e12; step++)
        {
            var a = Normal(theta, irradiance, time, n);
            var v = new double[n];
            for (int k = 0; k < response.Length; k++)
            {
                double r = response[k] - Model(theta, irradiance[k], time[k]);
                double[] g = Gradient(theta, irradiance[k], time[k], n);
                for (int i = 0; i < n; i++)
                {
                    v[i] += g[i] * r;
                }
            }

            for (int i = 0; i < n; i++)
            {
                a[i, i] *= 1.0 + damping;
                a[i, i] += 1e-300;
            }

            double[] move;
            try
            {
                var inverse = Inverse(a);
                move = [.. Enumerable.Range(0, n).Select(i => Enumerable.Range(0, n).Sum(j => inverse[i, j] * v[j]))];
            }
            catch (ArithmeticException)
            {
                damping *= 10.0;
                continue;
            }

            double[] next = [.. theta];
            for (int i = 0; i < n; i++)
            {
                next[i] += Math.Clamp(move[i], -1.0, 1.0);
            }

            double after = Rss(next, irradiance, time, response);
            if (after <= rss)
            {
                bool done = rss - after <= 1e-14 * rss;
                (theta, rss, damping) = (next, after, Math.Max(1e-12, damping * 0.2));
                if (done)
                {
                    break;
                }
            }
            else
            {
                damping *= 5.0;
            }
        }

        return (theta, rss);
    }

    private (double Lower, double Upper) Profile()
    {
        double t = StudentLaw.Quantile(0.975, Degrees), most = ResidualSumOfSquares * (1.0 + (t * t / Degrees));
        double Over(double p) => Minimise([theta[0], theta[1] + ((p - theta[3]) * irradiance.Average(Math.Log)), theta[2], p], irradiance, time, response, 3).Rss - most;
        double End(double sign)
        {
            double inside = theta[3], outside = inside + (sign * 0.05);
            while (Over(outside) < 0.0)
            {
                inside = outside;
                outside += sign * 0.2;
                if (Math.Abs(outside - theta[3]) > 5.0)
                {
                    return sign * double.PositiveInfinity;
                }
            }

            for (int i = 0; i < 50; i++)
            {
                double middle = 0.5 * (inside + outside);
                (inside, outside) = Over(middle) < 0.0 ? (middle, outside) : (inside, middle);
            }

            return inside;
        }

        return (End(-1.0), End(1.0));
    }

    private double? LackOfFit()
    {
        double pure = 0.0;
        int groups = 0;
        foreach (var group in Enumerable.Range(0, response.Length).GroupBy(k => (irradiance[k], time[k])))
        {
            double mean = group.Average(k => response[k]);
            pure += group.Sum(k => (response[k] - mean) * (response[k] - mean));
            groups++;
        }

        int within = response.Length - groups, lack = Degrees - within;
        if (within < 2 || lack < 1 || !(pure > 0.0))
        {
            return null;
        }

        // P(F > f) = I_{ν₂/(ν₂+ν₁f)}(ν₂/2, ν₁/2).
        double f = Math.Max(0.0, (ResidualSumOfSquares - pure) / lack / (pure / within));
        return MathNet.Numerics.SpecialFunctions.BetaRegularized(0.5 * within, 0.5 * lack, within / (within + (lack * f)));
    }

    private static double[,] Inverse(double[,] a)
    {
        int n = a.GetLength(0);
        var m = new double[n, 2 * n];
        for (int i = 0; i < n; i++)
        {
            for (int j = 0; j < n; j++)
            {
                m[i, j] = a[i, j];
            }

            m[i, n + i] = 1.0;
        }

        for (int c = 0; c < n; c++)
        {
            int pivot = c;
            for (int r = c + 1; r < n; r++)
            {
                pivot = Math.Abs(m[r, c]) > Math.Abs(m[pivot, c]) ? r : pivot;
            }

            if (!(Math.Abs(m[pivot, c]) > 0.0) || !double.IsFinite(m[pivot, c]))
            {
                throw new ArithmeticException("singular");
            }

            for (int j = 0; j < 2 * n; j++)
            {
                (m[c, j], m[pivot, j]) = (m[pivot, j], m[c, j]);
            }

            double by = m[c, c];
            for (int j = 0; j < 2 * n; j++)
            {
                m[c, j] /= by;
            }

            for (int r = 0; r < n; r++)
            {
                double times = m[r, c];
                for (int j = 0; r != c && j < 2 * n; j++)
                {
                    m[r, j] -= times * m[c, j];
                }
            }
        }

        var inverse = new double[n, n];
        for (int i = 0; i < n; i++)
        {
            for (int j = 0; j < n; j++)
            {
                inverse[i, j] = m[i, n + j];
            }
        }

        return inverse;
    }
}
