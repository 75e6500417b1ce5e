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
    /// <remarks>
    /// Where the others are wide a few Gauss–Hermite nodes in the normal score are exact to far below 10⁻⁶; where they are narrow the integrand is
    /// nearly a step and the trapezoidal rule with up to 1,601 nodes is used. Bounded by test against brute force.
    /// </remarks>
    public static Quadrature Of(IDistribution distribution, double factor, double effect, double smoothing)
    {
        if (distribution is FixedValue || effect <= 0.0)
        {
            return Point(distribution.Quantile(0.5) * factor);
        }

        if (distribution is DiscreteDistribution atoms)
        {
            return new([.. atoms.Values.Select(v => v * factor)], [.. atoms.Probabilities]);
        }

        double ratio = smoothing / effect;
        var (scores, weights) = ratio >= 4.0 ? HermiteNodes.For(7)
            : ratio >= 1.5 ? HermiteNodes.For(15)
            : ratio >= 0.7 ? HermiteNodes.For(31)
            : Trapezoid(ratio >= 0.05 ? 0.02 : 0.01);
        var values = new double[scores.Length];
        for (int i = 0; i < scores.Length; i++)
        {
            values[i] = factor * distribution.Quantile(BlockMath.NormalCdf(scores[i]));
        }

        return new(values, weights);
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
