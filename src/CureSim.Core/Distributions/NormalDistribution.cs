using CureSim.Core.Numerics;

namespace CureSim.Core.Distributions;

/// <summary>Normal (Gauss) distribution.</summary>
public sealed record NormalDistribution : IDistribution
{
    /// <param name="mean">Mean.</param>
    /// <param name="sd">Standard deviation, &gt; 0.</param>
    /// <exception cref="ArgumentException">A parameter is out of range.</exception>
    public NormalDistribution(double mean, double sd)
    {
        Mean = Parameter.Finite(mean);
        StandardDeviation = Parameter.Positive(sd);
    }

    /// <inheritdoc/>
    public double Mean { get; }

    /// <inheritdoc/>
    public double StandardDeviation { get; }

    /// <inheritdoc/>
    public double Minimum => double.NegativeInfinity;

    /// <inheritdoc/>
    public double Maximum => double.PositiveInfinity;

    /// <inheritdoc/>
    public double Density(double x) => BlockMath.NormalDensity(Score(x)) / StandardDeviation;

    /// <inheritdoc/>
    public double Cdf(double x) => BlockMath.NormalCdf(Score(x));

    /// <inheritdoc/>
    public double Survival(double x) => BlockMath.NormalSurvival(Score(x));

    /// <inheritdoc/>
    public double Quantile(double p) => AtScore(BlockMath.NormalQuantile(p));

    /// <inheritdoc/>
    public void Quantiles(ReadOnlySpan<double> p, Span<double> x)
    {
        BlockMath.NormalQuantile(p, x);
        BlockMath.Affine(x, StandardDeviation, Mean, x);
    }

    internal double AtScore(double z) => BlockMath.Affine(z, StandardDeviation, Mean);

    private double Score(double x) => (x - Mean) / StandardDeviation;
}
