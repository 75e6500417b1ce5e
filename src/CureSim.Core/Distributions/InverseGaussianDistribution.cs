using CureSim.Core.Numerics;

namespace CureSim.Core.Distributions;

/// <summary>
/// Inverse Gaussian distribution: when a drift with random steps first reaches a level. Its quantile is a search, about a microsecond each: not for hot loops.
/// </summary>
public sealed record InverseGaussianDistribution : IDistribution
{
    /// <param name="mean">Mean, &gt; 0.</param>
    /// <param name="shape">Shape λ, &gt; 0: mean³ over variance.</param>
    /// <exception cref="ArgumentException">A parameter is out of range.</exception>
    public InverseGaussianDistribution(double mean, double shape)
    {
        Mean = Parameter.Positive(mean);
        Shape = Parameter.Positive(shape);
    }

    /// <summary>Shape λ.</summary>
    public double Shape { get; }

    /// <inheritdoc/>
    public double Mean { get; }

    /// <inheritdoc/>
    public double StandardDeviation => Mean * Math.Sqrt(Mean / Shape);

    /// <inheritdoc/>
    public double Minimum => 0.0;

    /// <inheritdoc/>
    public double Maximum => double.PositiveInfinity;

    /// <inheritdoc/>
    public double Density(double x) => x > 0.0 ? BlockMath.NormalDensity(Score(x)) * Math.Sqrt(Shape / x) / x : 0.0;

    /// <inheritdoc/>
    public double Cdf(double x) => x > 0.0 ? Tails(x).Lower : 0.0;

    /// <inheritdoc/>
    public double Survival(double x) => x > 0.0 ? Tails(x).Upper : 1.0;

    /// <inheritdoc/>
    public double Quantile(double p)
    {
        if (!(p > 0.0 && p < 1.0))
        {
            return p == 0.0 ? 0.0 : p == 1.0 ? double.PositiveInfinity : double.NaN;
        }

        // Start from the lognormal with the same mean and standard deviation.
        double variance = BlockMath.Log1p(Mean / Shape);
        double guess = BlockMath.Log(Mean) - (0.5 * variance) + (Math.Sqrt(variance) * BlockMath.NormalQuantile(p));
        return BlockMath.Exp(MonotoneRoot.Find(Excess, guess, double.NegativeInfinity, double.PositiveInfinity));

        (double Value, double Slope) Excess(double y)
        {
            double x = BlockMath.Exp(y);
            var (lower, upper) = Tails(x);
            return p < 0.5
                ? (BlockMath.Log(lower / p), x * Density(x) / lower)
                : (-BlockMath.Log(upper / (1.0 - p)), x * Density(x) / upper);
        }
    }

    /// <inheritdoc/>
    public void Quantiles(ReadOnlySpan<double> p, Span<double> x)
    {
        BlockLoop.Require(p, x);
        for (int i = 0; i < p.Length; i++)
        {
            x[i] = Quantile(p[i]);
        }
    }

    private double Score(double x) => Math.Sqrt(Shape / x) * ((x / Mean) - 1.0);

    /// <summary>
    /// P(X ≤ x) = Φ(a) + e^(2λ/μ)·Φ(−b) with a, b = √(λ/x)·(x/μ ∓ 1). As 2λ/μ = (b² − a²)/2, the second term is e^(−a²/2) times a tail ratio, which cannot overflow.
    /// </summary>
    private (double Lower, double Upper) Tails(double x)
    {
        if (double.IsInfinity(x) || x == 0.0)
        {
            return x == 0.0 ? (0.0, 1.0) : (1.0, 0.0);
        }

        double a = Score(x), b = Math.Sqrt(Shape / x) * ((x / Mean) + 1.0);
        double bell = BlockMath.Exp(-0.5 * a * a);
        return a < 0.0
            ? Pair(bell * (BlockMath.NormalTailRatio(-a) + BlockMath.NormalTailRatio(b)))
            : (1.0 - UpperTail(), UpperTail());

        static (double, double) Pair(double lower) => (lower, 1.0 - lower);

        double UpperTail() => bell * (BlockMath.NormalTailRatio(a) - BlockMath.NormalTailRatio(b));
    }
}
