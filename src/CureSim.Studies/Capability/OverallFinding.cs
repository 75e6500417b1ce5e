using CureSim.Core.Statistics;

namespace CureSim.Studies.Capability;

/// <summary>Mean, standard deviation and the indices formed from them, each with its interval.</summary>
/// <param name="Mean">Mean, Student interval.</param>
/// <param name="Deviation">Standard deviation (n − 1), chi-square interval.</param>
/// <param name="Indices">Pp, Ppl, Ppu, Ppk (named Cp … in the record).</param>
/// <param name="Pp">Chi-square interval; withheld without both limits.</param>
/// <param name="Ppl">Exact interval (noncentral t) of the index at the lower limit; withheld without it.</param>
/// <param name="Ppu">The same at the upper limit.</param>
/// <param name="Ppk">Bissell's interval.</param>
/// <param name="PpkLower">One-sided lower limit: exact with a single limit, Bissell's with two.</param>
/// <remarks>
/// One value more or less changes a normal sample's index by chance alone; the intervals hold for independent values of a normal output.
/// Source: NIST/SEMATECH e-Handbook 1.3.5.2 (mean), 6.1.6 (Pp); Bissell (1990); Chou, Owen and Borrego (1990).
/// </remarks>
public sealed record OverallFinding(
    ConfidenceInterval Mean, ConfidenceInterval Deviation, CapabilityIndices Indices, ConfidenceInterval Pp, ConfidenceInterval Ppl, ConfidenceInterval Ppu,
    ConfidenceInterval Ppk, ConfidenceInterval PpkLower)
{
    /// <summary>From the moments of a sample.</summary>
    public static OverallFinding Of(SampleMoments moments, LimitPair limits, double confidence)
    {
        int n = (int)moments.Count;
        var indices = MomentCapability.Of(moments.Mean, moments.StandardDeviation!.Value, limits);
        return new(
            MeanInterval.Mean(moments, confidence), MeanInterval.StandardDeviation(moments, confidence), indices,
            indices.Cp is { } cp ? CapabilityInterval.Cp(cp, n, confidence) : ConfidenceInterval.Withhold("it needs both limits", confidence, n),
            OneLimit(indices.Cpl, "there is no lower limit", n, confidence),
            OneLimit(indices.Cpu, "there is no upper limit", n, confidence),
            CapabilityInterval.Cpk(indices.Cpk!.Value, n, confidence),
            LowerLimit(indices.Cpk.Value, limits, n, confidence));
    }

    /// <summary>One-sided lower limit of an index: exact (noncentral t) with a single limit, approximate (Bissell) with two.</summary>
    public static ConfidenceInterval LowerLimit(double index, LimitPair limits, int count, double confidence) => limits is { Lower: not null, Upper: not null }
        ? CapabilityInterval.CpkLower(index, count, confidence)
        : CapabilityInterval.OneSidedLower(index, count, confidence);

    /// <summary>Two-sided exact interval of an index at one limit; withheld when there is no such index.</summary>
    private static ConfidenceInterval OneLimit(double? index, string why, int count, double confidence) => index is { } value
        ? new(
            value, CapabilityInterval.OneSidedLower(value, count, 0.5 + (0.5 * confidence)).Lower,
            CapabilityInterval.OneSidedLower(value, count, 0.5 - (0.5 * confidence)).Lower, confidence, count)
        : ConfidenceInterval.Withhold(why, confidence, count);
}
