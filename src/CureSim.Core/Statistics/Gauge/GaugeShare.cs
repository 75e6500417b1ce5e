namespace CureSim.Core.Statistics;

/// <summary>How much of what is seen is the gauge.</summary>
/// <param name="PercentOfTotal">100 σ_gauge/√(σ_gauge² + σ_part²); null when there is no variation at all.</param>
/// <param name="PercentOfTolerance">100 · 6σ_gauge/(U − L); null without both limits.</param>
/// <param name="DistinctCategories">⌊√2 σ_part/σ_gauge⌋, at least 1; null when the gauge shows no variation.</param>
/// <remarks>Common practice, no source (the factor √2 is that of a difference of two readings). Checked against: hand-worked figures.</remarks>
public sealed record GaugeShare(double? PercentOfTotal, double? PercentOfTolerance, long? DistinctCategories)
{
    /// <summary>Shares from the variances of gauge and parts (square of the unit of the readings).</summary>
    public static GaugeShare Of(double gaugeVariance, double partVariance, LimitPair? limits = null)
    {
        if (!(gaugeVariance >= 0.0 && partVariance >= 0.0))
        {
            throw new ArgumentOutOfRangeException(nameof(gaugeVariance), gaugeVariance, "Variances are zero or above.");
        }

        double total = gaugeVariance + partVariance;
        double gauge = Math.Sqrt(gaugeVariance);
        return new GaugeShare(
            total > 0.0 ? 100.0 * Math.Sqrt(gaugeVariance / total) : null,
            limits is { Fault: null } ? 100.0 * 6.0 * gauge / (limits.Upper - limits.Lower) : null,
            gauge > 0.0 ? Math.Max(1L, (long)Math.Floor(Math.Sqrt(2.0 * partVariance) / gauge)) : null);
    }
}
