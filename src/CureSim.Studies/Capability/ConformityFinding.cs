using CureSim.Core.Statistics;

namespace CureSim.Studies.Capability;

/// <summary>A reading with the probability that its true value conforms.</summary>
/// <param name="Place">Its place in the sample, from 0; null for the mean.</param>
/// <param name="Reading">In the unit of the values.</param>
/// <param name="StandardUncertainty">u of this reading.</param>
/// <param name="Conformance">Probability that the true value is within the limits.</param>
public sealed record JudgedReading(int? Place, double Reading, double StandardUncertainty, double Conformance);

/// <summary>The readings against limits that their uncertainty has been taken from.</summary>
/// <param name="Acceptance">Limits moved inwards by U; null when nothing would be accepted.</param>
/// <param name="Accepted">Readings within them.</param>
/// <param name="InGuardBand">Readings within the limits but not within the acceptance limits.</param>
/// <param name="Mean">A reading at the sample's mean.</param>
/// <param name="Worst">The reading with the smallest probability of conformance.</param>
/// <param name="Readings">Every reading, in the order of the sample.</param>
/// <param name="Withheld">Why there are no acceptance limits; null when there are.</param>
/// <remarks>
/// The guard band is U of a reading at the acceptance limit (with U in % of the reading it differs between the two limits).
/// Source: JCGM 106:2012, clauses 7 and 8; ISO 14253-1.
/// </remarks>
public sealed record ConformityFinding(
    LimitPair? Acceptance, long Accepted, long InGuardBand, JudgedReading Mean, JudgedReading Worst, IReadOnlyList<JudgedReading> Readings, string? Withheld)
{
    /// <summary>Judges readings.</summary>
    /// <exception cref="ArgumentException">A relative uncertainty with a reading, a limit or a mean that is not above zero.</exception>
    public static ConformityFinding Of(IReadOnlyList<double> values, double mean, LimitPair limits, ReadingUncertainty uncertainty)
    {
        if (uncertainty.IsRelative && (!(mean > 0.0) || values.Any(v => !(v > 0.0)) || limits.Lower <= 0.0 || limits.Upper <= 0.0))
        {
            throw new ArgumentException("An uncertainty in per cent of the reading needs readings and limits above zero.", nameof(uncertainty));
        }

        JudgedReading Judge(int? place, double reading)
        {
            double u = uncertainty.StandardAt(reading);
            return new(place, reading, u, ConformanceProbability.Of(reading, u, limits));
        }

        JudgedReading[] readings = [.. values.Select((v, i) => Judge(i, v))];
        var (acceptance, why) = AcceptanceOf(limits, uncertainty);
        long accepted = acceptance is null ? 0 : values.LongCount(acceptance.Contains);
        return new(acceptance, accepted, values.LongCount(limits.Contains) - accepted, Judge(null, mean), readings.MinBy(r => r.Conformance)!, readings, why);
    }

    private static (LimitPair? Limits, string? Withheld) AcceptanceOf(LimitPair limits, ReadingUncertainty uncertainty)
    {
        // A reading y on the acceptance limit lies its own U from the limit: y = L/(1 − U) or y = U_L/(1 + U) with a ratio U.
        double? At(double? limit, double sign) => limit is not { } l ? null
            : GuardBand.FromExpanded(
                uncertainty.IsRelative ? uncertainty.Expanded * l / (1.0 - (sign * uncertainty.Expanded)) : uncertainty.Expanded,
                sign > 0.0 ? new LimitPair(l, null) : new LimitPair(null, l)).Limits is { } inner ? inner.Lower ?? inner.Upper : null;

        var pair = new LimitPair(At(limits.Lower, 1.0), At(limits.Upper, -1.0), limits.Target);
        return pair.Fault is null ? (pair, null) : (null, "the guard bands meet: no reading would be accepted");
    }
}
