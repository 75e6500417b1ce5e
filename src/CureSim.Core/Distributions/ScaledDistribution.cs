using CureSim.Core.Numerics;

namespace CureSim.Core.Distributions;

/// <summary>offset + factor·X: another distribution moved, stretched or mirrored.</summary>
/// <remarks>In a mirror of a discrete distribution the quantile exactly at a step's probability is the larger value.</remarks>
public sealed record ScaledDistribution : ITabulatedDistribution
{
    /// <param name="inner">Distribution of X.</param>
    /// <param name="factor">Not 0; negative mirrors.</param>
    /// <param name="offset">Added after the factor.</param>
    /// <exception cref="ArgumentException">A parameter is out of range.</exception>
    public ScaledDistribution(IDistribution inner, double factor, double offset = 0.0)
    {
        Inner = inner;
        Factor = Parameter.Finite(factor) != 0.0 ? factor : throw Parameter.Wrong(nameof(factor), factor, "must not be 0");
        Offset = Parameter.Finite(offset);
    }

    /// <summary>Distribution of X.</summary>
    public IDistribution Inner { get; }

    /// <summary>Factor.</summary>
    public double Factor { get; }

    /// <summary>Offset.</summary>
    public double Offset { get; }

    /// <inheritdoc/>
    public double Mean => Offset + (Factor * Inner.Mean);

    /// <inheritdoc/>
    public double StandardDeviation => Math.Abs(Factor) * Inner.StandardDeviation;

    /// <inheritdoc/>
    public double Minimum => Offset + (Factor * (Mirrored ? Inner.Maximum : Inner.Minimum));

    /// <inheritdoc/>
    public double Maximum => Offset + (Factor * (Mirrored ? Inner.Minimum : Inner.Maximum));

    private bool Mirrored => Factor < 0.0;

    /// <summary>Discrete values keep their probability; a density is spread by the factor.</summary>
    internal bool HasSteps => Inner is DiscreteDistribution or FixedValue || (Inner is ScaledDistribution scaled && scaled.HasSteps);

    /// <inheritdoc/>
    public double Density(double x) => HasSteps ? Inner.Density(Back(x)) : Inner.Density(Back(x)) / Math.Abs(Factor);

    /// <inheritdoc/>
    public double Cdf(double x) => Mirrored ? Inner.Survival(Back(x)) + AtStep(x) : Inner.Cdf(Back(x));

    /// <inheritdoc/>
    public double Survival(double x) => Mirrored ? Inner.Cdf(Back(x)) - AtStep(x) : Inner.Survival(Back(x));

    /// <inheritdoc/>
    public double Quantile(double p) =>
        BlockMath.Affine(Inner.Quantile(Mirrored ? BelowOne.Hold(BlockMath.Affine(p, -1.0, 1.0)) : p), Factor, Offset);

    /// <inheritdoc/>
    public void Quantiles(ReadOnlySpan<double> p, Span<double> x)
    {
        if (Mirrored)
        {
            BlockMath.Affine(p, -1.0, 1.0, x);
            BlockLoop.Map(default(BelowOne), x, x);
            p = x;
        }

        Inner.Quantiles(p, x);
        BlockMath.Affine(x, Factor, Offset, x);
    }

    /// <inheritdoc/>
    public double QuantileExact(double p, double complement)
    {
        (double lower, double upper) = Mirrored ? (complement, p) : (p, complement);
        return Offset + (Factor * (Inner is ITabulatedDistribution tabulated ? tabulated.QuantileExact(lower, upper) : Inner.Quantile(BelowOne.Hold(lower))));
    }

    private double Back(double x) => (x - Offset) / Factor;

    /// <summary>In a mirror the step at x itself changes sides.</summary>
    private double AtStep(double x) => HasSteps ? Inner.Density(Back(x)) : 0.0;
}
