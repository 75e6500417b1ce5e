using CureSim.Core.Cell;

namespace CureSim.StatisticalTests.Reference;

/// <summary>p of a group when nothing of a bond's own varies: only exposure time and the ripple of a shared emitter are left.</summary>
internal static class SharedOnly
{
    private const double Fineness = 0.125;
    private const double ScanStep = 0.03125;

    /// <summary>p of the group.</summary>
    public static double Nonconforming(ReferenceState state, BondFactors[] bonds, bool rippleIsOwn)
    {
        bool cure = state.Limits.Any(l => l.Response == Response.DegreeOfCure);
        if (bonds.Any(b => b.Own.Count > 0) || (cure && !state.Parts.CureRate.IsFixed))
        {
            throw new NotSupportedException("Nothing of some bond's own varies but its cure rate, or bonds of one part differ in what varies.");
        }

        ConformingIrradiance Range(double error) =>
            ConformingIrradiance.Of(state, state.ExposureSeconds(error), cure, state.Parts.CureRate.Mean);
        var ripple = state.Parts.Ripple;
        var error = state.Parts.TimeError;
        if (!rippleIsOwn && !ripple.IsFixed)
        {
            // For each time the ripples that every bond survives are an interval.
            var factor = new ScoreFactor(ripple.AtScore);
            return PartIntegral.TimeErrors(state, Fineness, cure).Sum(t => t.Weight * Outside(factor, bonds, Range(t.Value)));
        }

        // Only the time is left: cut its scores where conformity changes.
        double[] logs = [.. bonds.Select(b => b.LogConstant + (rippleIsOwn ? 0 : ripple.Mean))];
        bool Conform(double e) => Range(e) is var range && logs.All(l => l >= range.LogLower && l <= range.LogUpper);
        if (error.IsFixed)
        {
            return Conform(error.Mean) ? 0 : 1;
        }

        int AtScore(double z) => Conform(error.AtScore(z)) ? 1 : 0;
        double[] ends = [
            double.NegativeInfinity,
            .. ScoreRule.Changes(AtScore, -ScoreRule.EndScore, ScoreRule.EndScore, ScanStep),
            double.PositiveInfinity];
        bool conforms = AtScore(-ScoreRule.EndScore) == 1;
        double p = 0;
        for (int i = 1; i < ends.Length; i++, conforms = !conforms)
        {
            p += conforms ? 0 : ScoreFactor.Between(ends[i - 1], ends[i]);
        }

        return p;
    }

    private static double Outside(ScoreFactor ripple, BondFactors[] bonds, ConformingIrradiance range)
    {
        double lower = range.LogLower - bonds.Min(b => b.LogConstant);
        double upper = range.LogUpper - bonds.Max(b => b.LogConstant);
        return lower >= upper ? 1
            : (double.IsNegativeInfinity(lower) ? 0 : ripple.Below(lower)) + (double.IsPositiveInfinity(upper) ? 0 : ripple.Above(upper));
    }
}
