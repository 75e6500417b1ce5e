using CureSim.Core.Numerics;

namespace CureSim.Core.Distributions;

/// <summary>
/// A distribution held between two limits by the range of its quantile, never by drawing again: one uniform still makes one value.
/// </summary>
public sealed record TruncatedDistribution : ITabulatedDistribution
{
    // Probabilities near 1 are rounded to 10⁻¹⁶: below this share left, the rounding would show (beyond 10⁻⁷ of p).
    private const double LeastShare = 1e-9;

    private readonly double below;

    /// <param name="inner">A distribution with a density (not discrete, not fixed).</param>
    /// <param name="lower">Lower limit; −∞ for none.</param>
    /// <param name="upper">Upper limit, &gt; lower; +∞ for none.</param>
    /// <exception cref="ArgumentException">The limits are out of order or leave less than 10⁻⁹ of the distribution, or it has no density.</exception>
    public TruncatedDistribution(IDistribution inner, double lower, double upper)
    {
        if (inner is DiscreteDistribution or FixedValue or ScaledDistribution { HasSteps: true })
        {
            throw new ArgumentException($"inner: {inner.GetType().Name} has no density; leave values out of its list instead", nameof(inner));
        }

        if (!(upper > lower))
        {
            throw Parameter.Wrong(nameof(upper), upper, FormattableString.Invariant($"must be greater than lower = {lower}"));
        }

        Inner = inner;
        Minimum = Math.Max(lower, inner.Minimum);
        Maximum = Math.Min(upper, inner.Maximum);
        below = inner.Cdf(lower);
        Share = below > 0.5 ? inner.Survival(lower) - inner.Survival(upper) : inner.Cdf(upper) - below;
        if (!(Share >= LeastShare))
        {
            throw Parameter.Wrong(nameof(upper), upper, FormattableString.Invariant($"with lower = {lower} leaves {Share:G3} of the distribution; it must be at least {LeastShare}"));
        }

        (Mean, StandardDeviation) = TruncatedMoments.Of(this);
    }

    /// <summary>The distribution before its limits.</summary>
    public IDistribution Inner { get; }

    /// <summary>Share of the inner distribution between the limits.</summary>
    public double Share { get; }

    /// <inheritdoc/>
    public double Mean { get; }

    /// <inheritdoc/>
    public double StandardDeviation { get; }

    /// <inheritdoc/>
    public double Minimum { get; }

    /// <inheritdoc/>
    public double Maximum { get; }

    /// <inheritdoc/>
    public double Density(double x) => x >= Minimum && x <= Maximum ? Inner.Density(x) / Share : 0.0;

    /// <inheritdoc/>
    public double Cdf(double x) => x <= Minimum ? 0.0 : x >= Maximum ? 1.0 : Between(Minimum, x);

    /// <inheritdoc/>
    public double Survival(double x) => x <= Minimum ? 1.0 : x >= Maximum ? 0.0 : Between(x, Maximum);

    /// <inheritdoc/>
    public double Quantile(double p) => Hold(Inner.Quantile(BelowOne.Hold(BlockMath.Affine(p, Share, below))));

    /// <inheritdoc/>
    public void Quantiles(ReadOnlySpan<double> p, Span<double> x)
    {
        BlockMath.Affine(p, Share, below, x);
        BlockLoop.Map(default(BelowOne), x, x);
        Inner.Quantiles(x, x);
        for (int i = 0; i < x.Length; i++)
        {
            x[i] = Hold(x[i]);
        }
    }

    /// <inheritdoc/>
    public double QuantileExact(double p, double complement)
    {
        double q = BlockMath.Affine(p, Share, below), above = BlockMath.Affine(complement, Share, Inner.Survival(Maximum));
        return Hold(Inner is ITabulatedDistribution tabulated ? tabulated.QuantileExact(q, above) : Inner.Quantile(BelowOne.Hold(q)));
    }

    private double Hold(double x) => x < Minimum ? Minimum : x > Maximum ? Maximum : x;

    /// <summary>Share between two points, from whichever tail is the smaller.</summary>
    private double Between(double from, double to) =>
        Math.Clamp((Inner.Cdf(from) > 0.5 ? Inner.Survival(from) - Inner.Survival(to) : Inner.Cdf(to) - Inner.Cdf(from)) / Share, 0.0, 1.0);
}
