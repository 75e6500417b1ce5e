using CureSim.Core.Statistics;

namespace CureSim.Studies.Capability;

/// <summary>A user's own measured sample, judged against limits: everything that is known of it, each figure with its interval or the reason why it is withheld.</summary>
/// <param name="Sample">The values.</param>
/// <param name="Settings">What they are judged against.</param>
/// <param name="Moments">Count, mean, standard deviation, shape.</param>
/// <param name="Overall">Pp, Ppk.</param>
/// <param name="Groups">Cp, Cpk from the spread within groups; null without groups.</param>
/// <param name="Normality">Tests of normality.</param>
/// <param name="Power">After a Box–Cox power.</param>
/// <param name="Percentiles">Quantiles and percentile index.</param>
/// <param name="Outside">Fraction outside the limits.</param>
/// <param name="Tolerance">Statistical tolerance intervals.</param>
/// <param name="Screening">Signs of rounded or copied readings.</param>
/// <param name="Conformity">Readings with their uncertainty; null when it is not given.</param>
/// <param name="Use">The index to use.</param>
/// <param name="Requirement">The verdict; null when no index is required.</param>
/// <remarks>All intervals hold for independent values of one stable output; values of one setup share lamp, lots and meter and show less than their number says.</remarks>
public sealed record CapabilityAnalysis(
    CapabilitySample Sample, CapabilitySettings Settings, SampleMoments Moments, OverallFinding Overall, GroupFinding? Groups, NormalityFinding Normality, PowerFinding Power,
    PercentileFinding Percentiles, OutsideFinding Outside, ToleranceFinding Tolerance, SampleScreening Screening, ConformityFinding? Conformity, JudgingIndex Use,
    RequirementFinding? Requirement)
{
    /// <summary>Judges a sample.</summary>
    /// <exception cref="ArgumentException">Fewer than two values, no spread, a value that is not finite, or limits that cannot be used.</exception>
    public static CapabilityAnalysis Of(CapabilitySample sample, CapabilitySettings settings)
    {
        ArgumentNullException.ThrowIfNull(sample);
        ArgumentNullException.ThrowIfNull(settings);
        double[] values = [.. sample.Values];
        var moments = SampleMoments.Of(values);
        if (moments.StandardDeviation is not > 0.0)
        {
            throw new ArgumentException("At least two values that differ are needed.", nameof(sample));
        }

        if (settings.Limits.Fault is { } fault)
        {
            throw new ArgumentException($"The limits cannot be used: {fault}.", nameof(settings));
        }

        double[] sorted = [.. values];
        Array.Sort(sorted);
        var limits = settings.Limits;
        var overall = OverallFinding.Of(moments, limits, settings.Confidence);
        var normality = NormalityFinding.Of(values);
        var percentiles = PercentileFinding.Of(sorted, overall.Indices, limits, settings.Confidence);
        var power = PowerFinding.Of(values, limits, settings.Confidence);
        var use = normality.Refused is not true ? JudgingIndex.Moments
            : percentiles.Ppk.Value is not null ? JudgingIndex.Percentiles
            : power.IsUsable ? JudgingIndex.PowerTransform : JudgingIndex.None;
        return new(
            sample, settings, moments, overall,
            sample.Groups.Count > 0 ? GroupFinding.Of(sample, moments, limits, settings.Confidence) : null,
            normality, power, percentiles,
            OutsideFinding.Of(values, overall.Indices, limits, normality, settings.Confidence),
            ToleranceFinding.Of(sorted, moments, settings),
            SampleScreening.Of(values),
            settings.Uncertainty is { } uncertainty ? ConformityFinding.Of(sample.Values, moments.Mean, limits, uncertainty) : null,
            use,
            settings.RequiredIndex is { } required ? RequirementFinding.Of(required, use, overall, percentiles, power, settings) : null);
    }
}
