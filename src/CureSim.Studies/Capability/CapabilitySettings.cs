using CureSim.Core.Statistics;

namespace CureSim.Studies.Capability;

/// <summary>Uncertainty of each reading.</summary>
/// <param name="Expanded">Expanded uncertainty U: in the unit of the values, or as a ratio of the reading.</param>
/// <param name="IsRelative">True when <paramref name="Expanded"/> is a ratio of the reading.</param>
/// <param name="CoverageFactor">k, with which U = k·u.</param>
public sealed record ReadingUncertainty(double Expanded, bool IsRelative, double CoverageFactor)
{
    /// <summary>U of a reading, in the unit of the values.</summary>
    public double ExpandedAt(double reading) => IsRelative ? Expanded * Math.Abs(reading) : Expanded;

    /// <summary>Standard uncertainty u of a reading, in the unit of the values.</summary>
    public double StandardAt(double reading) => ExpandedAt(reading) / CoverageFactor;
}

/// <summary>What a sample is judged against.</summary>
/// <param name="Limits">Limits and target, in the unit of the values; at least one limit.</param>
/// <param name="Confidence">Confidence of intervals and bounds, 0 … 1.</param>
/// <param name="Reliability">Proportion of the output that a statistical tolerance interval must hold, 0 … 1.</param>
/// <param name="RequiredIndex">Index that must be shown; null when none is required.</param>
/// <param name="Uncertainty">Uncertainty of the readings; null when it is not given.</param>
public sealed record CapabilitySettings(LimitPair Limits, double Confidence, double Reliability, double? RequiredIndex, ReadingUncertainty? Uncertainty);

/// <summary>The values that are judged, in the order in which they were read.</summary>
/// <param name="Values">At least two finite values, not all equal.</param>
/// <param name="Groups">Group of each value (setup, lot, site); empty without groups.</param>
public sealed record CapabilitySample(IReadOnlyList<double> Values, IReadOnlyList<string> Groups);
