using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using CureSim.Core.Numerics;

namespace CureSim.Core.Distributions;

/// <summary>Triangular distribution; the mode may stand at an end.</summary>
public sealed record TriangularDistribution : IDistribution
{
    /// <param name="min">Lower end.</param>
    /// <param name="mode">Most likely value, from min to max.</param>
    /// <param name="max">Upper end, &gt; min.</param>
    /// <exception cref="ArgumentException">A parameter is out of range.</exception>
    public TriangularDistribution(double min, double mode, double max)
    {
        Parameter.Increasing(min, max);
        Mode = mode >= min && mode <= max ? mode : throw Parameter.Wrong(nameof(mode), mode, FormattableString.Invariant($"must lie from {min} to {max}"));
        Minimum = min;
        Maximum = max;
    }

    /// <summary>Most likely value.</summary>
    public double Mode { get; }

    /// <inheritdoc/>
    public double Mean => (Minimum + Mode + Maximum) / 3.0;

    /// <inheritdoc/>
    public double StandardDeviation
    {
        get
        {
            double left = Mode - Minimum, right = Maximum - Mode;
            return Math.Sqrt(((left * left) + (left * right) + (right * right)) / 18.0);
        }
    }

    /// <inheritdoc/>
    public double Minimum { get; }

    /// <inheritdoc/>
    public double Maximum { get; }

    private double Width => Maximum - Minimum;

    /// <inheritdoc/>
    public double Density(double x)
    {
        if (x < Minimum || x > Maximum)
        {
            return 0.0;
        }

        double peak = 2.0 / Width;
        return x < Mode ? peak * (x - Minimum) / (Mode - Minimum) : x > Mode ? peak * (Maximum - x) / (Maximum - Mode) : peak;
    }

    /// <inheritdoc/>
    public double Cdf(double x) => x <= Minimum ? 0.0 : x < Mode ? Left(x) : 1.0 - Right(x);

    /// <inheritdoc/>
    public double Survival(double x) => x <= Minimum ? 1.0 : x < Mode ? 1.0 - Left(x) : Right(x);

    /// <inheritdoc/>
    public double Quantile(double p) => new Function(this).Invoke(p);

    /// <inheritdoc/>
    public void Quantiles(ReadOnlySpan<double> p, Span<double> x) => BlockLoop.Map(new Function(this), p, x);

    private double Left(double x) => (x - Minimum) * (x - Minimum) / (Width * (Mode - Minimum));

    private double Right(double x) => x >= Maximum ? 0.0 : (Maximum - x) * (Maximum - x) / (Width * (Maximum - Mode));

    private readonly struct Function(TriangularDistribution d) : IBlockFunction
    {
        private readonly double min = d.Minimum;
        private readonly double max = d.Maximum;
        private readonly double split = (d.Mode - d.Minimum) / d.Width;
        private readonly double left = d.Width * (d.Mode - d.Minimum);
        private readonly double right = d.Width * (d.Maximum - d.Mode);

        public double Invoke(double x) => x < split ? min + Math.Sqrt(x * left) : max - Math.Sqrt((1.0 - x) * right);

        [MethodImpl(MethodImplOptions.AggressiveInlining)]
        public Vector512<double> Invoke(Vector512<double> x)
        {
            var lower = Vector512.LessThan(x, Vector512.Create(split));
            var area = Vector512.ConditionalSelect(lower, x * Vector512.Create(left), (Vector512.Create(1.0) - x) * Vector512.Create(right));
            var side = Vector512.Sqrt(area);
            return Vector512.ConditionalSelect(lower, Vector512.Create(min) + side, Vector512.Create(max) - side);
        }
    }
}
