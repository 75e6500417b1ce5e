namespace CureSim.Core.Distributions;

/// <summary>
/// Beta distribution from three points, as used in project planning: shapes 1 + 4·(mode − min)/(max − min) and 1 + 4·(max − mode)/(max − min), so that
/// the mean is (min + 4·mode + max)/6. <see cref="Quantile"/> is a table within 10⁻⁶ standard deviations; <c>QuantileExact</c> is not.
/// </summary>
public sealed class BetaPertDistribution : ITabulatedDistribution
{
    private readonly BetaDistribution beta;

    /// <param name="min">Lower end.</param>
    /// <param name="mode">Most likely value, from min to max.</param>
    /// <param name="max">Upper end, &gt; min.</param>
    /// <exception cref="ArgumentException">A parameter is out of range.</exception>
    public BetaPertDistribution(double min, double mode, double max)
    {
        Parameter.Increasing(min, max);
        Mode = mode >= min && mode <= max ? mode : throw Parameter.Wrong(nameof(mode), mode, FormattableString.Invariant($"must lie from {min} to {max}"));
        beta = new(1.0 + (4.0 * (mode - min) / (max - min)), 1.0 + (4.0 * (max - mode) / (max - min)), min, max);
    }

    /// <summary>Most likely value.</summary>
    public double Mode { get; }

    /// <inheritdoc/>
    public double Mean => beta.Mean;

    /// <inheritdoc/>
    public double StandardDeviation => beta.StandardDeviation;

    /// <inheritdoc/>
    public double Minimum => beta.Minimum;

    /// <inheritdoc/>
    public double Maximum => beta.Maximum;

    /// <inheritdoc/>
    public double Density(double x) => beta.Density(x);

    /// <inheritdoc/>
    public double Cdf(double x) => beta.Cdf(x);

    /// <inheritdoc/>
    public double Survival(double x) => beta.Survival(x);

    /// <inheritdoc/>
    public double Quantile(double p) => beta.Quantile(p);

    /// <inheritdoc/>
    public void Quantiles(ReadOnlySpan<double> p, Span<double> x) => beta.Quantiles(p, x);

    /// <inheritdoc/>
    public double QuantileExact(double p, double complement) => beta.QuantileExact(p, complement);
}
