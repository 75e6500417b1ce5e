using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using CureSim.Core.Distributions;
using CureSim.Core.Numerics;

namespace CureSim.Engine.State;

/// <summary>Nodes over the cure rate of a bond within its lot, placed where the integrand is.</summary>
/// <remarks>
/// A lower limit asks for P(Y &lt; max(x, y − κ)), κ the bond's own ln rate over the exponent: a kink at κ = y − x. Beyond it the answer is Φ of one
/// number; before it Gauss–Legendre in the normal score of κ, about the peak of φ(s)·Φ(score), which for a normal sum lies at −ab/(1 + b²).
/// With 16 nodes where the slope b is at most 1, 24 up to 1.6, and 24 across the step with 12 beyond it where it is steeper, the error stays below 10⁻⁵ of p
/// for normal sums (test); on whole states it is bounded by test against brute force.
/// </remarks>
internal sealed class RateIntegral
{
    /// <summary>Most nodes of one integral.</summary>
    public const int Most = 36;

    private const int Narrow = 0;
    private const int Wide = 1;
    private const int Beyond = 2;
    private const double Reach = 7.5;
    private const double Gentle = 1.0;
    private const double Steep = 1.6;
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

    /// <summary>Nodes and weights on (−1, 1) of the panels, in the order in which <see cref="Place(double, double, double, double, Span{ValueTuple{double, double}})"/> names them.</summary>
    public static (double[] X, double[] W)[] Rules { get; } = [Rule(16), Rule(24), Rule(12)];

    /// <summary>True when κ is a straight line in its normal score.</summary>
    public bool IsLine => values is null && Atoms.Count == 0;

    /// <summary>κ at score 0 and its slope, of a straight line.</summary>
    public (double Mean, double Slope) Line => (mean, slope);

    /// <summary>True when the rate within a lot does not vary.</summary>
    public bool IsFixed => slope == 0.0;

    /// <summary>κ at a normal score.</summary>
    public double At(double score) => values is null ? mean + (slope * score) : values.At(score);

    /// <summary>ln rate factors and probabilities of a rate that takes single values; empty for a continuous one.</summary>
    public IReadOnlyList<(double Value, double Weight)> Atoms { get; } = [];

    /// <summary>
    /// Panels of nodes for an integrand φ(s)·Φ(a + b·s) below (or above) a kink; empty ones have no radius.
    /// </summary>
    /// <param name="a">Score of the sum's tail at s = 0.</param>
    /// <param name="b">Its slope in s.</param>
    /// <param name="from">Lower end allowed.</param>
    /// <param name="to">Upper end allowed.</param>
    /// <param name="panels">Middle and radius of the panel of each of <see cref="Rules"/>.</param>
    public static void Place(double a, double b, double from, double to, Span<(double Middle, double Radius)> panels)
    {
        panels.Clear();
        from = Math.Max(from, -Reach);
        to = Math.Min(to, Reach);
        double steepness = Math.Abs(b);
        if (steepness > Steep)
        {
            // A step at s = −a/b: one panel across it, one over what lies beyond, where Φ is 1.
            double step = -a / b, across = 7.0 / steepness;
            panels[Wide] = Panel(Math.Max(from, step - across), Math.Min(to, step + across));
            panels[Beyond] = b < 0.0 ? Panel(from, Math.Min(to, step - across)) : Panel(Math.Max(from, step + across), to);
            return;
        }

        double narrow = 1.0 / Math.Sqrt(1.0 + (b * b)), centre = a < 0.0 ? -a * b * narrow * narrow : 0.0;
        double half = steepness > Gentle ? (6.0 * narrow) + 1.5 : (5.0 * narrow) + 1.0;
        panels[steepness > Gentle ? Wide : Narrow] = Panel(Math.Max(from, centre - half), Math.Min(to, centre + half));
    }

    /// <summary>The same for eight integrands of one kind of limit at once: middles and radii by rule.</summary>
    [MethodImpl(Kernel.Options)]
    public static void Place(
        Vector512<double> a, Vector512<double> b, Vector512<double> from, Vector512<double> to, Span<Vector512<double>> middle, Span<Vector512<double>> radius)
    {
        var (zero, one, reach) = (Vector512<double>.Zero, Vector512<double>.One, Vector512.Create(Reach));
        from = Vector512.Max(from, -reach);
        to = Vector512.Min(to, reach);
        var steepness = Vector512.Abs(b);
        var steep = Vector512.GreaterThan(steepness, Vector512.Create(Steep));
        var gentle = Vector512.LessThanOrEqual(steepness, Vector512.Create(Gentle));

        var narrow = one / Vector512.Sqrt(one + (b * b));
        var centre = Vector512.ConditionalSelect(Vector512.LessThan(a, zero), -a * b * narrow * narrow, zero);
        var half = Vector512.ConditionalSelect(
            gentle, (Vector512.Create(5.0) * narrow) + one, (Vector512.Create(6.0) * narrow) + Vector512.Create(1.5));
        var (low, high) = (Vector512.Max(from, centre - half), Vector512.Min(to, centre + half));
        (middle[Beyond], radius[Beyond]) = (zero, zero);
        if (!Vector512.EqualsAll(steep.AsInt64(), Vector512<long>.Zero))
        {
            var step = -a / b;
            var across = Vector512.Create(7.0) / steepness;
            var falls = Vector512.LessThan(b, zero);
            low = Vector512.ConditionalSelect(steep, Vector512.Max(from, step - across), low);
            high = Vector512.ConditionalSelect(steep, Vector512.Min(to, step + across), high);
            Panel(
                Vector512.ConditionalSelect(falls, from, Vector512.Max(from, step + across)),
                Vector512.ConditionalSelect(falls, Vector512.Min(to, step - across), to),
                steep, out middle[Beyond], out radius[Beyond]);
        }

        Panel(low, high, gentle, out middle[Narrow], out radius[Narrow]);
        Panel(low, high, ~gentle, out middle[Wide], out radius[Wide]);
    }

    private static (double Middle, double Radius) Panel(double low, double high) => (0.5 * (low + high), Math.Max(0.0, 0.5 * (high - low)));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static void Panel(
        Vector512<double> low, Vector512<double> high, Vector512<double> where, out Vector512<double> middle, out Vector512<double> radius)
    {
        middle = Vector512.Create(0.5) * (low + high);
        radius = Vector512.ConditionalSelect(where, Vector512.Max(Vector512<double>.Zero, Vector512.Create(0.5) * (high - low)), Vector512<double>.Zero);
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
