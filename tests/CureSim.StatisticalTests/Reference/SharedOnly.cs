using CureSim.Core.Numerics;

namespace CureSim.StatisticalTests.Reference;

/// <summary>p of a group when nothing of a bond's own varies: only exposure time and the ripple of a shared emitter are left.</summary>
internal static class SharedOnly
{
    private const double Step = 0.03125;

    /// <summary>p of the group.</summary>
    public static double Nonconforming(ReferenceState state, BondFactors[] bonds, bool rippleIsOwn)
    {
        if (bonds.Any(b => b.Own.Count > 0))
        {
            throw new NotSupportedException("Some bonds of a part have quantities of their own and others have none.");
        }

        var ripple = state.Parts.Ripple;
        var error = state.Parts.TimeError;
        if (!rippleIsOwn && !ripple.IsFixed)
        {
            // For each time the ripples that every bond survives are an interval.
            return PartIntegral.Nodes(error, Step).Sum(t => t.Weight * Outside(
                new ScoreFactor(z => ripple.Scale * ripple.Varies.Quantile(BlockMath.NormalCdf(z))), bonds, Range(state, t.Value)));
        }

        // Only the time is left: cut its scores where conformity changes.
        double[] logs = [.. bonds.Select(b => b.LogConstant + (rippleIsOwn ? 0 : ripple.Mean))];
        bool Conform(double e)
        {
            var range = Range(state, e);
            return logs.All(l => l >= range.LogLower && l <= range.LogUpper);
        }

        if (error.IsFixed)
        {
            return Conform(error.Mean) ? 0 : 1;
        }

        bool AtScore(double z) => Conform(error.Scale * error.Varies.Quantile(BlockMath.NormalCdf(z)));
        double p = AtScore(-ScoreFactor.EndScore) ? 0 : BlockMath.NormalCdf(-ScoreFactor.EndScore);
        for (double z = -ScoreFactor.EndScore; z < ScoreFactor.EndScore; z += Step)
        {
            double end = z + Step;
            bool first = AtScore(z);
            bool last = AtScore(end);
            if (first && last)
            {
                continue;
            }

            double cut = first == last ? end : Cut(AtScore, z, end);
            p += !first ? Between(z, cut) : 0;
            p += !last && first ? Between(cut, end) : 0;
        }

        return p + (AtScore(ScoreFactor.EndScore) ? 0 : BlockMath.NormalCdf(-ScoreFactor.EndScore));
    }

    private static ConformingIrradiance Range(ReferenceState state, double error)
    {
        double seconds = state.ExposureSeconds(error);
        return ConformingIrradiance.ByDose(state, seconds).And(ConformingIrradiance.ByCure(state, seconds, state.Parts.CureRate.Mean));
    }

    private static double Outside(ScoreFactor ripple, BondFactors[] bonds, ConformingIrradiance range)
    {
        double lower = range.LogLower - bonds.Min(b => b.LogConstant);
        double upper = range.LogUpper - bonds.Max(b => b.LogConstant);
        return lower >= upper ? 1
            : (double.IsNegativeInfinity(lower) ? 0 : ripple.Below(lower)) + (double.IsPositiveInfinity(upper) ? 0 : ripple.Above(upper));
    }

    private static double Between(double from, double to) => from > 0
        ? BlockMath.NormalCdf(-from) - BlockMath.NormalCdf(-to)
        : BlockMath.NormalCdf(to) - BlockMath.NormalCdf(from);

    private static double Cut(Func<double, bool> conforms, double from, double to)
    {
        bool first = conforms(from);
        for (int n = 0; n < 60; n++)
        {
            double middle = 0.5 * (from + to);
            (from, to) = conforms(middle) == first ? (middle, to) : (from, middle);
        }

        return 0.5 * (from + to);
    }
}
