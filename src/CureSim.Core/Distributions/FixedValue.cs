namespace CureSim.Core.Distributions;

/// <summary>A number that does not vary: all probability at one point.</summary>
public sealed record FixedValue(double Value) : IDistribution
{
    /// <inheritdoc/>
    public double Mean => Value;

    /// <inheritdoc/>
    public double StandardDeviation => 0.0;

    /// <inheritdoc/>
    public double Minimum => Value;

    /// <inheritdoc/>
    public double Maximum => Value;

    /// <inheritdoc/>
    public double Density(double x) => x == Value ? 1.0 : 0.0;

    /// <inheritdoc/>
    public double Cdf(double x) => x >= Value ? 1.0 : 0.0;

    /// <inheritdoc/>
    public double Survival(double x) => x >= Value ? 0.0 : 1.0;

    /// <inheritdoc/>
    public double Quantile(double p) => Value;

    /// <inheritdoc/>
    public void Quantiles(ReadOnlySpan<double> p, Span<double> x) => x.Fill(Value);
}
