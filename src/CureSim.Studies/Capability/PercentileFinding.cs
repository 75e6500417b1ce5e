using CureSim.Core.Statistics;

namespace CureSim.Studies.Capability;

/// <summary>The three quantiles of ISO 22514-2 and the index formed from them, without assuming a shape.</summary>
/// <param name="Low">X0.135 with its distribution-free interval, or withheld with the number of values that would be enough.</param>
/// <param name="Median">X50.</param>
/// <param name="High">X99.865.</param>
/// <param name="Indices">Percentile indices; withheld below 740 values.</param>
/// <param name="Ppk">Percentile Ppk with its 95 % bootstrap interval (always 95 %).</param>
/// <param name="Comparison">Beside the moment indices.</param>
public sealed record PercentileFinding(
    ConfidenceInterval Low, ConfidenceInterval Median, ConfidenceInterval High, CapabilityIndices Indices, Estimate Ppk, MethodComparison Comparison)
{
    /// <summary>Key of the bootstrap's draws: fixed, so that the same file gives the same interval.</summary>
    public const ulong Seed = 20261;

    /// <summary>From values sorted upwards.</summary>
    public static PercentileFinding Of(ReadOnlySpan<double> sorted, CapabilityIndices moments, LimitPair limits, double confidence)
    {
        var indices = PercentileCapability.OfSorted(sorted, limits);
        return new(
            PercentileInterval.Quantile(sorted, PercentileCapability.LowProbability, confidence),
            PercentileInterval.Quantile(sorted, 0.5, confidence),
            PercentileInterval.Quantile(sorted, PercentileCapability.HighProbability, confidence),
            indices, PercentileInterval.BootstrapCpk(sorted, limits, Seed), PercentileCapability.Compare(moments, indices));
    }
}
