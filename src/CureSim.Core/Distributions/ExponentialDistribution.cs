using CureSim.Core.Numerics;

namespace CureSim.Core.Distributions;

/// <summary>Exponential distribution: waiting time at a constant rate.</summary>
public sealed record ExponentialDistribution : IDistribution
{
    /// <param name="mean">Mean, &gt; 0: one over the rate.</param>
    /// <exception cref="ArgumentException">The mean is out of range.</exception>
    public ExponentialDistribution(double mean) => Mean = Parameter.Positive(mean);

    /// <inheritdoc/>
    public double Mean { get; }

    /// <inheritdoc/>
    public double StandardDeviation => Mean;

    /// <inheritdoc/>
    public double Minimum => 0.0;

    /// <inheritdoc/>
    public double Maximum => double.PositiveInfinity;

    /// <inheritdoc/>
    public double Density(double x) => x >= 0.0 ? BlockMath.Exp(-x / Mean) / Mean : 0.0;

    /// <inheritdoc/>
    public double Cdf(double x) => x > 0.0 ? -BlockMath.ExpMinusOne(-x / Mean) : 0.0;

    /// <inheritdoc/>
    public double Survival(double x) => x > 0.0 ? BlockMath.Exp(-x / Mean) : 1.0;

    /// <inheritdoc/>
    public double Quantile(double p) => BlockMath.Affine(BlockMath.Log1p(-p), -Mean, 0.0);

    /// <inheritdoc/>
    public void Quantiles(ReadOnlySpan<double> p, Span<double> x)
    {
        BlockMath.Affine(p, -1.0, 0.0, x);
        BlockMath.Log1p(x, x);
        BlockMath.Affine(x, -Mean, 0.0, x);
    }
}
