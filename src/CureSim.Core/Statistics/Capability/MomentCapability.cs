namespace CureSim.Core.Statistics;

/// <summary>Capability indices from a mean and a standard deviation.</summary>
/// <remarks>
/// Cp = (U − L)/6σ · Cpu = (U − μ)/3σ · Cpl = (μ − L)/3σ · Cpk = min · Cpm = (U − L)/(6√(σ² + (μ − T)²)) · k = |(U + L)/2 − μ|/((U − L)/2).
/// With the standard deviation within short-term samples: Cp, Cpk; with the overall one: Pp, Ppk. A one-sided limit gives the one-sided index only.
/// Source: ISO 22514-2 and ISO 3534-2 (terms); NIST/SEMATECH e-Handbook of Statistical Methods, 6.1.6 (formulas).
/// Checked against: rows CAP-01, CAP-02.
/// </remarks>
public static class MomentCapability
{
    /// <summary>Indices of an output with this mean and standard deviation (same unit as the limits).</summary>
    public static CapabilityIndices Of(double mean, double standardDeviation, LimitPair limits)
    {
        const CapabilityMethod Method = CapabilityMethod.Moments;
        if (limits.Fault is string fault)
        {
            return CapabilityIndices.Withhold(Method, fault);
        }

        if (!double.IsFinite(mean) || !double.IsFinite(standardDeviation) || standardDeviation < 0.0)
        {
            return CapabilityIndices.Withhold(Method, "the mean or the standard deviation is not a usable number");
        }

        if (standardDeviation == 0.0)
        {
            return CapabilityIndices.Withhold(Method, "the output shows no spread, so an index has no bound");
        }

        double three = 3.0 * standardDeviation;
        double? cpl = (mean - limits.Lower) / three;
        double? cpu = (limits.Upper - mean) / three;
        double? width = limits.Upper - limits.Lower;
        double? offset = mean - limits.Target;
        double? cpm = width / (6.0 * (offset is double o ? Math.Sqrt((standardDeviation * standardDeviation) + (o * o)) : (double?)null));
        double? middle = 0.5 * (limits.Lower + limits.Upper);
        double? k = middle is double m ? Math.Abs(m - mean) / (0.5 * width) : null;
        return new CapabilityIndices(Method, width / (2.0 * three), cpl, cpu, CapabilityIndices.Smaller(cpl, cpu), cpm, k);
    }
}
