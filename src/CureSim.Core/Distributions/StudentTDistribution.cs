using CureSim.Core.Numerics;

namespace CureSim.Core.Distributions;

/// <summary>Student's t distribution. Its quantile is a search, about a microsecond each: not for hot loops.</summary>
/// <remarks>Beyond |t| = 10¹⁵⁰, which matters only below 0.15 degrees of freedom, the tail is taken as 0.</remarks>
public sealed record StudentTDistribution : IDistribution
{
    /// <param name="degreesOfFreedom">Degrees of freedom, &gt; 0; need not be whole.</param>
    /// <exception cref="ArgumentException">The parameter is out of range.</exception>
    public StudentTDistribution(double degreesOfFreedom) => DegreesOfFreedom = Parameter.Positive(degreesOfFreedom);

    /// <summary>Degrees of freedom.</summary>
    public double DegreesOfFreedom { get; }

    /// <summary>0; not-a-number up to one degree of freedom, where there is none.</summary>
    public double Mean => DegreesOfFreedom > 1.0 ? 0.0 : double.NaN;

    /// <summary>√(ν/(ν − 2)); ∞ up to two degrees of freedom, not-a-number up to one.</summary>
    public double StandardDeviation => DegreesOfFreedom > 2.0
        ? Math.Sqrt(DegreesOfFreedom / (DegreesOfFreedom - 2.0))
        : DegreesOfFreedom > 1.0 ? double.PositiveInfinity : double.NaN;

    /// <inheritdoc/>
    public double Minimum => double.NegativeInfinity;

    /// <inheritdoc/>
    public double Maximum => double.PositiveInfinity;

    /// <inheritdoc/>
    public double Density(double x)
    {
        double power = -0.5 * (DegreesOfFreedom + 1.0) * BlockMath.Log1p(x * x / DegreesOfFreedom);
        return BlockMath.Exp(power - BetaFunctions.LogBeta(0.5 * DegreesOfFreedom, 0.5)) / Math.Sqrt(DegreesOfFreedom);
    }

    /// <inheritdoc/>
    public double Cdf(double x) => x > 0.0 ? 1.0 - Tail(x).Share : Tail(-x).Share;

    /// <inheritdoc/>
    public double Survival(double x) => Cdf(-x);

    /// <inheritdoc/>
    public double Quantile(double p)
    {
        if (p > 0.5)
        {
            return -Quantile(1.0 - p);
        }

        if (!(p > 0.0 && p < 0.5))
        {
            return p == 0.5 ? 0.0 : p == 0.0 ? double.NegativeInfinity : double.NaN;
        }

        double guess = -BlockMath.NormalQuantile(p);
        return -MonotoneRoot.Find(Excess, guess, 0.0, double.PositiveInfinity);

        (double Value, double Slope) Excess(double t)
        {
            var (tail, front) = Tail(t);
            return (BlockMath.Log(p / tail), front / (t * tail)); // the density is front/t
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

    /// <summary>P(T &gt; t) for t ≥ 0: half of I(ν/(ν + t²)) with shapes ν/2 and ½.</summary>
    private (double Share, double Front) Tail(double t)
    {
        double square = t * t, sum = DegreesOfFreedom + square;
        if (double.IsInfinity(sum))
        {
            return (0.0, 0.0);
        }

        var (lower, _, front) = BetaFunctions.Incomplete(0.5 * DegreesOfFreedom, 0.5, DegreesOfFreedom / sum, square / sum);
        return (0.5 * lower, front);
    }
}
