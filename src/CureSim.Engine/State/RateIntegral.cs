using CureSim.Core.Distributions;
using CureSim.Core.Numerics;

namespace CureSim.Engine.State;

/// <summary>Nodes over the cure rate of a bond within its lot, placed where the integrand is.</summary>
/// <remarks>
/// A lower limit asks for P(Y &lt; max(x, y − κ)), κ the bond's own ln rate over the exponent: a kink at κ = y − x. Beyond it the answer is Φ of one
/// number; before it Gauss–Legendre with 24 nodes in the normal score of κ, about the peak of φ(s)·Φ(score), which for a normal sum lies at −ab/(1 + b²).
/// Bounded by test against brute force.
/// </remarks>
internal sealed class RateIntegral
{
    /// <summary>Nodes of one integral.</summary>
    public const int Nodes = 24;

    private const double Reach = 7.5;
    private const double Steep = 5.0;
    private static readonly (double[] X, double[] W) Legendre = Rule(Nodes);
    private static readonly (double[] X, double[] W) Half = Rule(Nodes / 2);
    private readonly double mean;
    private readonly double slope;
    private readonly MonotoneCubic? values;

    /// <summary>Rate draws of <paramref name="distribution"/> × factor, divided by the exponent.</summary>
    public RateIntegral(IDistribution distribution, double factor, double exponent)
    {
        double scale = factor / exponent;
        mean = distribution.Mean * scale;
        slope = distribution.StandardDeviation * scale;
        if (distribution is NormalDistribution or FixedValue)
        {
            return;
        }

        if (distribution is DiscreteDistribution discrete)
        {
            Atoms = [.. discrete.Values.Zip(discrete.Probabilities, (v, w) => (v * factor, w))];
            return;
        }

        var s = new List<double>();
        var v = new List<double>();
        for (double at = -8.0; at <= 8.0; at += 0.125)
        {
            double value = distribution.QuantileOfScore(at) * scale;
            if (v.Count == 0 || value > v[^1])
            {
                s.Add(at);
                v.Add(value);
            }
        }

        values = new MonotoneCubic([.. s], [.. v]);
    }

    /// <summary>True when the rate within a lot does not vary.</summary>
    public bool IsFixed => slope == 0.0;

    /// <summary>κ at a normal score.</summary>
    public double At(double score) => values is null ? mean + (slope * score) : values.At(score);

    /// <summary>ln rate factors and probabilities of a rate that takes single values; empty for a continuous one.</summary>
    public IReadOnlyList<(double Value, double Weight)> Atoms { get; } = [];

    /// <summary>
    /// Places the nodes for an integrand φ(s)·Φ(a + b·s) on s below (or above) a kink.
    /// </summary>
    /// <param name="a">Score of the sum's tail at s = 0.</param>
    /// <param name="b">Its slope in s.</param>
    /// <param name="from">Lower end allowed.</param>
    /// <param name="to">Upper end allowed.</param>
    /// <param name="s">Nodes out.</param>
    /// <param name="w">Weights out, without φ(s).</param>
    public static void Place(double a, double b, double from, double to, Span<double> s, Span<double> w)
    {
        from = Math.Max(from, -Reach);
        to = Math.Min(to, Reach);
        if (Math.Abs(b) > Steep)
        {
            // Nearly a step at s = −a/b: half the nodes across it, half over what lies beyond, where Φ is 1.
            double step = -a / b, across = 7.0 / Math.Abs(b);
            Panel(Half, Math.Max(from, step - across), Math.Min(to, step + across), s[..(Nodes / 2)], w[..(Nodes / 2)]);
            var (low, high) = b < 0.0 ? (from, Math.Min(to, step - across)) : (Math.Max(from, step + across), to);
            Panel(Half, low, high, s[(Nodes / 2)..], w[(Nodes / 2)..]);
            return;
        }

        double narrow = 1.0 / Math.Sqrt(1.0 + (b * b)), centre = a < 0.0 ? -a * b * narrow * narrow : 0.0, half = (6.0 * narrow) + 1.5;
        Panel(Legendre, Math.Max(from, centre - half), Math.Min(to, centre + half), s, w);
    }

    private static void Panel((double[] X, double[] W) rule, double low, double high, Span<double> s, Span<double> w)
    {
        double middle = 0.5 * (low + high), radius = Math.Max(0.0, 0.5 * (high - low));
        for (int i = 0; i < s.Length; i++)
        {
            s[i] = Math.Clamp(middle + (radius * rule.X[i]), -Reach, Reach);
            w[i] = radius * rule.W[i];
        }
    }

    /// <summary>Gauss–Legendre nodes on (−1, 1) by Newton's method on the recurrence. Source: Abramowitz and Stegun 25.4.29.</summary>
    private static (double[] X, double[] W) Rule(int nodes)
    {
        var x = new double[nodes];
        var w = new double[nodes];
        for (int i = 0; i < nodes; i++)
        {
            double at = -BlockMath.SinCos2Pi((i + 0.75) / (nodes + 0.5) / 2.0).Cos, slope = 1.0;
            for (int k = 0; k < 50; k++)
            {
                double p0 = 1.0, p1 = at;
                for (int n = 2; n <= nodes; n++)
                {
                    (p0, p1) = (p1, ((((2.0 * n) - 1.0) * at * p1) - ((n - 1.0) * p0)) / n);
                }

                slope = nodes * ((at * p1) - p0) / ((at * at) - 1.0);
                double move = p1 / slope;
                at -= move;
                if (Math.Abs(move) < 1e-16)
                {
                    break;
                }
            }

            x[i] = at;
            w[i] = 2.0 / ((1.0 - (at * at)) * slope * slope);
        }

        return (x, w);
    }
}
