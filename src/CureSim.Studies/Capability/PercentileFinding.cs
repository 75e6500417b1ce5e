using CureSim.Core.Statistics;

namespace CureSim.Studies.Capability;

/// <summary>The three quantiles of ISO 22514-2 and the index formed from them, without assuming a shape.</summary>
/// <param name="Low">X0.135 with its distribution-free interval, or withheld with the number of values that would be enough.</param>
/// <param name="Median">X50.</param>
/// <param name="High">X99.865.</param>
/// <param name="Indices">Percentile indices without interval; withheld below 740 values.</param>
/// <param name="Ppk">Percentile Ppk with its 95 % bootstrap interval (always 95 %); withheld where the outer quantiles have no interval.</param>
/// <param name="Comparison">Beside the moment indices.</param>
public sealed record PercentileFinding(
    ConfidenceInterval Low, ConfidenceInterval Median, ConfidenceInterval High, CapabilityIndices Indices, Estimate Ppk, MethodComparison Comparison)
{
    /// <summary>Key of the bootstrap's draws: fixed, so that the same file gives the same interval.</summary>
    public const ulong Seed = 20261;

    /// <summary>Values that the index needs: as many as bound its outer quantiles.</summary>
    public static int LeastValues(double confidence) => PercentileInterval.LeastForInterval(PercentileCapability.LowProbability, Math.Max(confidence, 0.95));

    /// <summary>From values sorted upwards.</summary>
    public static PercentileFinding Of(ReadOnlySpan<double> sorted, CapabilityIndices moments, LimitPair limits, double confidence)
    {
        var indices = PercentileCapability.OfSorted(sorted, limits);
        var low = PercentileInterval.Quantile(sorted, PercentileCapability.LowProbability, confidence);
        var high = PercentileInterval.Quantile(sorted, PercentileCapability.HighProbability, confidence);

        // A resample never reaches beyond the sample: where the outer quantiles themselves have no interval, one by resampling would be too narrow.
        int least = LeastValues(confidence);
        var index = sorted.Length >= least
            ? PercentileInterval.BootstrapCpk(sorted, limits, Seed)
            : Estimate.Withhold(FormattableString.Invariant($"{sorted.Length} values do not bound the outer quantiles; {least} are enough"), sorted.Length);
        return new(low, PercentileInterval.Quantile(sorted, 0.5, confidence), high, indices, index, PercentileCapability.Compare(moments, indices));
    }
}
