namespace CureSim.Core.Statistics;

/// <summary>What a set of indices was formed from.</summary>
public enum CapabilityMethod
{
    /// <summary>Mean and standard deviation.</summary>
    Moments,

    /// <summary>The 0.135 %, 50 % and 99.865 % quantiles (ISO 22514-2).</summary>
    Percentiles,
}

/// <summary>Capability indices of one output, or the reason why there are none. An index whose limit does not exist is null.</summary>
/// <param name="Method">Moments or percentiles.</param>
/// <param name="Cp">Width between the limits over the reference width; null unless both limits exist.</param>
/// <param name="Cpl">Index at the lower limit.</param>
/// <param name="Cpu">Index at the upper limit.</param>
/// <param name="Cpk">The smaller of the one-sided indices that exist.</param>
/// <param name="Cpm">Width over 6√(σ² + (μ − T)²); null without both limits and a target, and for percentiles.</param>
/// <param name="OffCentre">k = |midpoint − location| / half width; null unless both limits exist.</param>
/// <param name="Withheld">Why there are no indices; null when there are.</param>
/// <remarks>
/// Named as with the standard deviation of a process in statistical control; with the overall standard deviation the same figures are read as
/// Pp, Ppl, Ppu, Ppk (ISO 22514-1 keeps Cp and Cpk for a process in statistical control).
/// </remarks>
public sealed record CapabilityIndices(
    CapabilityMethod Method, double? Cp, double? Cpl, double? Cpu, double? Cpk, double? Cpm, double? OffCentre, string? Withheld = null)
{
    /// <summary>No indices, and why.</summary>
    public static CapabilityIndices Withhold(CapabilityMethod method, string reason) => new(method, null, null, null, null, null, null, reason);

    internal static double? Smaller(double? a, double? b) => a is double x && b is double y ? Math.Min(x, y) : a ?? b;
}
