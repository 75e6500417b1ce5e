using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using CureSim.Core.Numerics;

namespace CureSim.Core.Distributions;

/// <summary>Uniform (rectangular) distribution.</summary>
public sealed record UniformDistribution : IDistribution
{
    /// <param name="from">Lower end.</param>
    /// <param name="to">Upper end, &gt; from.</param>
    /// <exception cref="ArgumentException">A parameter is out of range.</exception>
    public UniformDistribution(double from, double to)
    {
        Parameter.Increasing(from, to);
        Minimum = from;
        Maximum = to;
    }

    /// <inheritdoc/>
    public double Mean => Minimum + (0.5 * Width);

    /// <inheritdoc/>
    public double StandardDeviation => Width / Math.Sqrt(12.0);

    /// <inheritdoc/>
    public double Minimum { get; }

    /// <inheritdoc/>
    public double Maximum { get; }

    private double Width => Maximum - Minimum;

    /// <inheritdoc/>
    public double Density(double x) => x >= Minimum && x <= Maximum ? 1.0 / Width : 0.0;

    /// <inheritdoc/>
    public double Cdf(double x) => Math.Clamp((x - Minimum) / Width, 0.0, 1.0);

    /// <inheritdoc/>
    public double Survival(double x) => Math.Clamp((Maximum - x) / Width, 0.0, 1.0);

    /// <inheritdoc/>
    public double Quantile(double p) => new Function(this).Invoke(p);

    /// <inheritdoc/>
    public void Quantiles(ReadOnlySpan<double> p, Span<double> x) => BlockLoop.Map(new Function(this), p, x);

    private readonly struct Function(UniformDistribution d) : IBlockFunction
    {
        private readonly double from = d.Minimum;
        private readonly double to = d.Maximum;
        private readonly double width = d.Width;

        public double Invoke(double x)
        {
            double y = Math.FusedMultiplyAdd(x, width, from);
            return y > to ? to : y; // the rounded width may reach past the end
        }

        [MethodImpl(MethodImplOptions.AggressiveInlining)]
        public Vector512<double> Invoke(Vector512<double> x)
        {
            var end = Vector512.Create(to);
            var y = Vector512.FusedMultiplyAdd(x, Vector512.Create(width), Vector512.Create(from));
            return Vector512.ConditionalSelect(Vector512.GreaterThan(y, end), end, y);
        }
    }
}
