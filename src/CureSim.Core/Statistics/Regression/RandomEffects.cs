namespace CureSim.Core.Statistics;

/// <summary>Mean and spread of a parameter over units (emitters), from estimates that each carry an error of fit.</summary>
/// <param name="Mean">Mean over units with its interval: Student's t on k − 1 degrees of freedom, standard error after Hartung and Knapp, never below the usual one.</param>
/// <param name="Spread">Standard deviation between units, the error of fit taken out (REML); interval by the Q profile, 0 where it reaches down.</param>
/// <param name="Units">Units k.</param>
/// <param name="Chance">P(Q at least as large | no spread between units), Cochran's test; null for one unit.</param>
/// <remarks>
/// x_i = μ + b_i + e_i, b_i ~ N(0, τ²), e_i ~ N(0, v_i) with v_i known. τ² maximises the restricted likelihood
/// −½[Σ ln(v_i + τ²) + ln Σ w_i + Σ w_i (x_i − μ̂)²], w_i = 1/(v_i + τ²). This is the second stage of the standard two-stage method: the variance of the
/// x_i alone would count the error of fit as spread.
/// Source: M. Davidian and D. M. Giltinan, Nonlinear Models for Repeated Measurement Data (1995), chapter 5; J. Hartung and G. Knapp, Statist. Med. 20 (2001) 3875;
/// W. Viechtbauer, Statist. Med. 26 (2007) 37 (Q profile) (all recalled from memory). Checked against: row REG-RE-BCG, and SciPy (tests/data/reference/fit_scipy.py).
/// </remarks>
public sealed record RandomEffects(Estimate Mean, Estimate Spread, int Units, double? Chance)
{
    private const int Halvings = 200;

    /// <summary>Combines estimates.</summary>
    /// <param name="values">k estimates.</param>
    /// <param name="variances">Their variances of fit, above zero.</param>
    public static RandomEffects Of(IReadOnlyList<double> values, IReadOnlyList<double> variances)
    {
        ArgumentNullException.ThrowIfNull(values);
        ArgumentNullException.ThrowIfNull(variances);
        int k = values.Count;
        if (variances.Count != k || variances.Any(v => !(v > 0.0) || !double.IsFinite(v)))
        {
            throw new ArgumentException("There must be a finite variance above zero for each value.", nameof(variances));
        }

        if (k == 0)
        {
            return new(Estimate.Withhold("no unit", 0), Estimate.Withhold("no unit", 0), 0, null);
        }

        if (k == 1)
        {
            return new(Estimate.Of(values[0], Math.Sqrt(variances[0]), 1), Estimate.Withhold("one unit shows no spread between units", 1, enough: 2), 1, null);
        }

        double t2 = Restricted(values, variances);
        var (mean, total) = MeanAt(values, variances, t2);
        double q = QAt(values, variances, t2);
        double error = Math.Sqrt(Math.Max(1.0, q / (k - 1.0)) / total);
        double half = StudentLaw.Quantile(0.975, k - 1) * error;
        double q0 = QAt(values, variances, 0.0);
        double low = Profile(values, variances, ChiSquareLaw.UpperQuantile(0.025, k - 1)), high = Profile(values, variances, ChiSquareLaw.Quantile(0.025, k - 1));
        return new(
            Estimate.Bounded(mean, error, mean - half, mean + half, k),
            Estimate.Bounded(Math.Sqrt(t2), null, Math.Sqrt(low), Math.Sqrt(high), k), k, ChiSquareLaw.Survival(q0, k - 1));
    }

    private static (double Mean, double Total) MeanAt(IReadOnlyList<double> x, IReadOnlyList<double> v, double t2)
    {
        double total = 0.0, sum = 0.0;
        for (int i = 0; i < x.Count; i++)
        {
            double w = 1.0 / (v[i] + t2);
            total += w;
            sum += w * x[i];
        }

        return (sum / total, total);
    }

    private static double QAt(IReadOnlyList<double> x, IReadOnlyList<double> v, double t2)
    {
        double mean = MeanAt(x, v, t2).Mean, q = 0.0;
        for (int i = 0; i < x.Count; i++)
        {
            q += (x[i] - mean) * (x[i] - mean) / (v[i] + t2);
        }

        return q;
    }

    // τ² at which Q equals a quantile of chi-square; Q falls with τ².
    private static double Profile(IReadOnlyList<double> x, IReadOnlyList<double> v, double target)
    {
        if (QAt(x, v, 0.0) <= target)
        {
            return 0.0;
        }

        double low = 0.0, high = Largest(x, v);
        while (QAt(x, v, high) > target)
        {
            high *= 4.0;
        }

        for (int i = 0; i < Halvings && high - low > 1e-14 * high; i++)
        {
            double middle = 0.5 * (low + high);
            (low, high) = QAt(x, v, middle) > target ? (middle, high) : (low, middle);
        }

        return 0.5 * (low + high);
    }

    private static double Largest(IReadOnlyList<double> x, IReadOnlyList<double> v)
    {
        double range = x.Max() - x.Min();
        return (range * range) + v.Max() + double.Epsilon;
    }

    // The restricted likelihood may have two maxima: the best of a grid, then the root of its slope beside it.
    private static double Restricted(IReadOnlyList<double> x, IReadOnlyList<double> v)
    {
        double top = Largest(x, v), best = 0.0, value = Likelihood(x, v, 0.0);
        const int Grid = 400;
        int at = 0;
        double Point(int i) => i == 0 ? 0.0 : top * Math.Pow(10.0, -12.0 + (12.0 * i / Grid));
        for (int i = 1; i <= Grid; i++)
        {
            double here = Likelihood(x, v, Point(i));
            if (here > value)
            {
                (best, value, at) = (Point(i), here, i);
            }
        }

        if (at == 0)
        {
            return 0.0;
        }

        double low = Point(at - 1), high = Point(Math.Min(Grid, at + 1));
        if (!(Slope(x, v, low) > 0.0) || !(Slope(x, v, high) < 0.0))
        {
            return best;
        }

        for (int i = 0; i < Halvings && high - low > 1e-15 * high; i++)
        {
            double middle = 0.5 * (low + high);
            (low, high) = Slope(x, v, middle) > 0.0 ? (middle, high) : (low, middle);
        }

        return 0.5 * (low + high);
    }

    private static double Likelihood(IReadOnlyList<double> x, IReadOnlyList<double> v, double t2)
    {
        double logs = 0.0;
        for (int i = 0; i < x.Count; i++)
        {
            logs += Math.Log(v[i] + t2);
        }

        return -0.5 * (logs + Math.Log(MeanAt(x, v, t2).Total) + QAt(x, v, t2));
    }

    // d/dτ² of twice the restricted log-likelihood: Σ w²(x − μ̂)² − Σ w + Σ w²/Σ w.
    private static double Slope(IReadOnlyList<double> x, IReadOnlyList<double> v, double t2)
    {
        var (mean, total) = MeanAt(x, v, t2);
        double squares = 0.0, sum = 0.0;
        for (int i = 0; i < x.Count; i++)
        {
            double w = 1.0 / (v[i] + t2);
            squares += w * w * (x[i] - mean) * (x[i] - mean);
            sum += w * w;
        }

        return squares - total + (sum / total);
    }
}
