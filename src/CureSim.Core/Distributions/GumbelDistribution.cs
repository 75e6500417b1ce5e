using CureSim.Core.Numerics;

namespace CureSim.Core.Distributions;

/// <summary>Gumbel distribution of largest values: Cdf exp(−e^−y), y = (x − location)/scale.</summary>
public sealed record GumbelDistribution : IDistribution
{
    private const double EulerGamma = 0.5772156649015329;

    /// <param name="location">Mode.</param>
    /// <param name="scale">Scale, &gt; 0.</param>
    /// <exception cref="ArgumentException">A parameter is out of range.</exception>
    public GumbelDistribution(double location, double scale)
    {
        Location = Parameter.Finite(location);
        Scale = Parameter.Positive(scale);
    }

    /// <summary>Mode.</summary>
    public double Location { get; }

    /// <summary>Scale.</summary>
    public double Scale { get; }

    /// <inheritdoc/>
    public double Mean => Location + (EulerGamma * Scale);

    /// <inheritdoc/>
    public double StandardDeviation => Math.PI * Scale / Math.Sqrt(6.0);

    /// <inheritdoc/>
    public double Minimum => double.NegativeInfinity;

    /// <inheritdoc/>
    public double Maximum => double.PositiveInfinity;

    /// <inheritdoc/>
    public double Density(double x)
    {
        double y = (x - Location) / Scale;
        return BlockMath.Exp(-y - BlockMath.Exp(-y)) / Scale;
    }

    /// <inheritdoc/>
    public double Cdf(double x) => BlockMath.Exp(-BlockMath.Exp((Location - x) / Scale));

    /// <inheritdoc/>
    public double Survival(double x) => -BlockMath.ExpMinusOne(-BlockMath.Exp((Location - x) / Scale));

    /// <inheritdoc/>
    public double Quantile(double p) => BlockMath.Affine(BlockMath.Log(BlockMath.Affine(BlockMath.Log(p), -1.0, 0.0)), -Scale, Location);

    /// <inheritdoc/>
    public void Quantiles(ReadOnlySpan<double> p, Span<double> x)
    {
        BlockMath.Log(p, x);
        BlockMath.Affine(x, -1.0, 0.0, x);
        BlockMath.Log(x, x);
        BlockMath.Affine(x, -Scale, Location, x);
    }
}
