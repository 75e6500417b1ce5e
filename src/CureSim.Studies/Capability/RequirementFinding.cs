using CureSim.Core.Statistics;

namespace CureSim.Studies.Capability;

/// <summary>Which figure judges the sample.</summary>
public enum JudgingIndex
{
    /// <summary>Mean and standard deviation.</summary>
    Moments,

    /// <summary>Quantiles of the sample (ISO 22514-2).</summary>
    Percentiles,

    /// <summary>Mean and standard deviation after a Box–Cox power.</summary>
    PowerTransform,

    /// <summary>No index: the counted fraction and the distribution-free tolerance interval.</summary>
    None,
}

/// <summary>Whether the sample shows the required index.</summary>
/// <param name="Required">The index that must be shown.</param>
/// <param name="By">The figure that judges.</param>
/// <param name="Observed">Index that was seen; null without one.</param>
/// <param name="LowerLimit">Its one-sided lower limit at the confidence; null without one.</param>
/// <param name="IsShown">True when the lower limit reaches the requirement.</param>
/// <param name="EnoughParts">Values at which the same observed index would show it; null when none would, or it is shown, or that is not known.</param>
/// <param name="Withheld">Why no index judges; null when one does.</param>
public sealed record RequirementFinding(
    double Required, JudgingIndex By, double? Observed, double? LowerLimit, bool IsShown, long? EnoughParts, string? Withheld)
{
    private const int MostParts = 1_000_000;

    /// <summary>Judges.</summary>
    public static RequirementFinding Of(double required, JudgingIndex by, OverallFinding overall, PercentileFinding percentiles, PowerFinding power, CapabilitySettings settings)
    {
        var (observed, lower, why) = by switch
        {
            JudgingIndex.Moments => (overall.Ppk.Value, overall.PpkLower.Lower, (string?)null),
            JudgingIndex.PowerTransform => (power.Ppk.Value, power.PpkLower.Lower, null),

            // The lower end of a two-sided 95 % interval is a one-sided limit of 97.5 %.
            JudgingIndex.Percentiles when settings.Confidence <= 0.975 => (percentiles.Ppk.Value, percentiles.Ppk.Lower95, percentiles.Ppk.Withheld),
            JudgingIndex.Percentiles => (percentiles.Ppk.Value, null, "the bootstrap limit of the percentile index is one of 97.5 %; a higher confidence cannot be shown by it"),
            _ => (null, null, "the output is not normal, no power makes it so, and the sample is too small for its outer quantiles"),
        };
        bool shown = lower >= required;
        bool normalTheory = by is JudgingIndex.Moments or JudgingIndex.PowerTransform;
        return new(required, by, observed, lower, shown, !shown && normalTheory && observed > required ? Enough(observed!.Value, required, settings) : null, why);
    }

    private static long? Enough(double observed, double required, CapabilitySettings settings)
    {
        bool Shows(int n) => OverallFinding.LowerLimit(observed, settings.Limits, n, settings.Confidence).Lower >= required;
        if (!Shows(MostParts))
        {
            return null;
        }

        int low = 2, high = MostParts;
        while (high - low > 1)
        {
            int middle = (low + high) / 2;
            (low, high) = Shows(middle) ? (low, middle) : (middle, high);
        }

        return high;
    }
}
