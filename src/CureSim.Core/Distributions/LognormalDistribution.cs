using CureSim.Core.Numerics;

namespace CureSim.Core.Distributions;

/// <summary>Lognormal distribution: ln X is normal.</summary>
public sealed record LognormalDistribution : IDistribution
{
    /// <param name="median">Median, &gt; 0.</param>
    /// <param name="gsd">Geometric standard deviation, &gt; 1: one standard deviation of ln X is ln(gsd).</param>
    /// <exception cref="ArgumentException">A parameter is out of range.</exception>
    public LognormalDistribution(double median, double gsd)
    {
        Median = Parameter.Positive(median);
        SigmaLog = gsd > 1.0 && double.IsFinite(gsd) ? BlockMath.Log(gsd) : throw Parameter.Wrong(nameof(gsd), gsd, "must be greater than 1 and finite");
    }

    private LognormalDistribution()
    {
    }

    /// <summary>Median of X: e to the mean of ln X.</summary>
    public double Median { get; private init; }

    /// <summary>Standard deviation of ln X.</summary>
    public double SigmaLog { get; private init; }

    /// <inheritdoc/>
    public double Mean => Median * BlockMath.Exp(0.5 * SigmaLog * SigmaLog);

    /// <inheritdoc/>
    public double StandardDeviation => Mean * Math.Sqrt(BlockMath.ExpMinusOne(SigmaLog * SigmaLog));

    /// <inheritdoc/>
    public double Minimum => 0.0;

    /// <inheritdoc/>
    public double Maximum => double.PositiveInfinity;

    /// <summary>The lognormal with this mean and standard deviation of X itself, both &gt; 0.</summary>
    /// <exception cref="ArgumentException">A parameter is out of range.</exception>
    public static LognormalDistribution FromMeanAndSd(double mean, double sd)
    {
        double ratio = Parameter.Positive(sd) / Parameter.Positive(mean);
        double variance = BlockMath.Log1p(ratio * ratio);
        return new() { Median = mean / Math.Sqrt(1.0 + (ratio * ratio)), SigmaLog = Math.Sqrt(Parameter.Positive(variance, nameof(sd))) };
    }

    /// <summary>The lognormal whose logarithm has mean <paramref name="mu"/> and standard deviation <paramref name="sigma"/> &gt; 0.</summary>
    /// <exception cref="ArgumentException">A parameter is out of range.</exception>
    public static LognormalDistribution FromLog(double mu, double sigma) =>
        new() { Median = Parameter.Positive(BlockMath.Exp(Parameter.Finite(mu)), nameof(mu)), SigmaLog = Parameter.Positive(sigma) };

    /// <inheritdoc/>
    public double Density(double x) => x > 0.0 ? BlockMath.NormalDensity(Score(x)) / (SigmaLog * x) : 0.0;

    /// <inheritdoc/>
    public double Cdf(double x) => x > 0.0 ? BlockMath.NormalCdf(Score(x)) : 0.0;

    /// <inheritdoc/>
    public double Survival(double x) => x > 0.0 ? BlockMath.NormalSurvival(Score(x)) : 1.0;

    /// <inheritdoc/>
    public double Quantile(double p) => AtScore(BlockMath.NormalQuantile(p));

    /// <inheritdoc/>
    public void Quantiles(ReadOnlySpan<double> p, Span<double> x)
    {
        BlockMath.NormalQuantile(p, x);
        AtScores(x, x);
    }

    internal double AtScore(double z) => BlockMath.Affine(BlockMath.Exp(BlockMath.Affine(z, SigmaLog, 0.0)), Median, 0.0);

    internal void AtScores(ReadOnlySpan<double> z, Span<double> x)
    {
        BlockMath.Affine(z, SigmaLog, 0.0, x);
        BlockMath.Exp(x, x);
        BlockMath.Affine(x, Median, 0.0, x);
    }

    private double Score(double x) => BlockMath.Log(x / Median) / SigmaLog;
}
