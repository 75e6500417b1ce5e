using CureSim.Core.Distributions;
using CureSim.Core.Numerics;

namespace CureSim.Engine.State;

/// <summary>Weighted values that stand for one part-level quantity when it is integrated.</summary>
public sealed record Quadrature(double[] Values, double[] Weights)
{
    /// <summary>A quantity that does not vary.</summary>
    public static Quadrature Point(double value) => new([value], [1.0]);

    /// <summary>
    /// Nodes for a quantity whose effect on ln response has the standard deviation <paramref name="effect"/>, beside other quantities of a part
    /// that smooth the integrand over <paramref name="smoothing"/>.
    /// </summary>
    public static Quadrature Of(IDistribution distribution, double factor, double effect, double smoothing)
    {
        if (distribution is FixedValue || effect <= 0.0)
        {
            return Point(distribution.Quantile(0.5) * factor);
        }

        if (distribution is DiscreteDistribution atoms)
        {
            return Reduce([.. atoms.Values.Select(v => v * factor)], [.. atoms.Probabilities], effect, smoothing);
        }

        var (scores, weights) = Trapezoid(smoothing < 0.05 * effect ? 0.01 : 0.02);
        var values = new double[scores.Length];
        for (int i = 0; i < scores.Length; i++)
        {
            values[i] = factor * distribution.QuantileOfScore(scores[i]);
        }

        return Reduce(values, weights, effect, smoothing);
    }

    /// <summary>Nodes for a quantity given by masses on a grid.</summary>
    public static Quadrature Of(GridMasses masses, double effect, double smoothing)
    {
        var x = new double[masses.Mass.Length];
        for (int i = 0; i < x.Length; i++)
        {
            x[i] = (masses.First + i) * masses.Step;
        }

        return Reduce(x, masses.Mass, effect, smoothing);
    }

    /// <summary>
    /// Where the other quantities are wide, few Gauss nodes are enough: with s = effect/smoothing, n nodes leave a relative error of about
    /// (5s)^2n·n!/(2n)! in a tail at five standard deviations, here below 10⁻³ (bounded by test); where they are narrow the integrand is nearly a step and all points stay.
    /// </summary>
    private static Quadrature Reduce(double[] values, double[] weights, double effect, double smoothing)
    {
        double ratio = smoothing / effect;
        int n = ratio >= 5.0 ? 3 : ratio >= 3.0 ? 5 : ratio >= 2.0 ? 9 : ratio >= 1.2 ? 17 : ratio >= 0.7 ? 31 : int.MaxValue;
        return n >= values.Length ? new(values, weights) : GaussRule.Of(values, weights, n);
    }

    private static (double[] Scores, double[] Weights) Trapezoid(double step)
    {
        const double Reach = 8.0;
        int n = (int)Math.Round(2.0 * Reach / step) + 1;
        var s = new double[n];
        var w = new double[n];
        double total = 0.0;
        for (int i = 0; i < n; i++)
        {
            s[i] = -Reach + (i * step);
            w[i] = BlockMath.Exp(-0.5 * s[i] * s[i]);
            total += w[i];
        }

        for (int i = 0; i < n; i++)
        {
            w[i] /= total;
        }

        return (s, w);
    }
}
