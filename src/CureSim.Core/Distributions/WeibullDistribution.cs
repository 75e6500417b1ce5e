using CureSim.Core.Numerics;

namespace CureSim.Core.Distributions;

/// <summary>Weibull distribution with two parameters: survival exp(−(x/scale)^shape).</summary>
public sealed record WeibullDistribution : IDistribution
{
    /// <param name="shape">Shape, &gt; 0; below 1 early failures, above 1 wear-out.</param>
    /// <param name="scale">Characteristic life, &gt; 0: 63.2 % lie below.</param>
    /// <exception cref="ArgumentException">A parameter is out of range.</exception>
    public WeibullDistribution(double shape, double scale)
    {
        Shape = Parameter.Positive(shape);
        Scale = Parameter.Positive(scale);
    }

    /// <summary>Shape.</summary>
    public double Shape { get; }

    /// <summary>Characteristic life.</summary>
    public double Scale { get; }

    /// <inheritdoc/>
    public double Mean => Scale * GammaFunctions.Gamma(1.0 + (1.0 / Shape));

    /// <inheritdoc/>
    public double StandardDeviation
    {
        get
        {
            double first = GammaFunctions.LogGamma(1.0 + (1.0 / Shape)), second = GammaFunctions.LogGamma(1.0 + (2.0 / Shape));
            return Scale * BlockMath.Exp(first) * Math.Sqrt(BlockMath.ExpMinusOne(second - (2.0 * first)));
        }
    }

    /// <inheritdoc/>
    public double Minimum => 0.0;

    /// <inheritdoc/>
    public double Maximum => double.PositiveInfinity;

    /// <inheritdoc/>
    public double Density(double x)
    {
        if (!(x > 0.0))
        {
            return x < 0.0 || Shape > 1.0 ? 0.0 : Shape == 1.0 ? 1.0 / Scale : double.PositiveInfinity;
        }

        return Shape / x * Power(x) * BlockMath.Exp(-Power(x));
    }

    /// <inheritdoc/>
    public double Cdf(double x) => x > 0.0 ? -BlockMath.ExpMinusOne(-Power(x)) : 0.0;

    /// <inheritdoc/>
    public double Survival(double x) => x > 0.0 ? BlockMath.Exp(-Power(x)) : 1.0;

    /// <inheritdoc/>
    public double Quantile(double p) =>
        BlockMath.Affine(BlockMath.Pow(BlockMath.Affine(BlockMath.Log1p(-p), -1.0, 0.0), 1.0 / Shape), Scale, 0.0);

    /// <inheritdoc/>
    public void Quantiles(ReadOnlySpan<double> p, Span<double> x)
    {
        BlockMath.Affine(p, -1.0, 0.0, x);
        BlockMath.Log1p(x, x);
        BlockMath.Affine(x, -1.0, 0.0, x);
        BlockMath.Pow(x, 1.0 / Shape, x);
        BlockMath.Affine(x, Scale, 0.0, x);
    }

    private double Power(double x) => BlockMath.Pow(x / Scale, Shape);
}
