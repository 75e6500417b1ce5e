using CureSim.Core.Statistics;

namespace CureSim.Studies.Capability;

/// <summary>One group of values.</summary>
/// <param name="Name">As in the file.</param>
/// <param name="Moments">Count, mean, standard deviation.</param>
public sealed record GroupRow(string Name, SampleMoments Moments);

/// <summary>Spread within groups, and what it says of the short-term capability.</summary>
/// <param name="Groups">In the order of the file.</param>
/// <param name="Within">Pooled standard deviation within groups, always with its 95 % interval; its count is the degrees of freedom.</param>
/// <param name="Indices">Cp, Cpl, Cpu, Cpk with it and the overall mean; null when withheld.</param>
/// <param name="Cp">Chi-square interval with the degrees of freedom within groups.</param>
/// <param name="Cpk">Bissell's interval with degrees of freedom + 1 in place of n, which errs on the wide side.</param>
/// <param name="Components">Variance between and within groups, with the F test.</param>
/// <param name="Withheld">Why there is no short-term figure; null when there is.</param>
/// <remarks>
/// ISO 22514 keeps Cp and Cpk for a process in statistical control. Groups whose means differ by more than chance show that it is not: then Cp and Cpk
/// say what the process could do, Pp and Ppk what it did.
/// Source: ISO 22514-1, ISO 22514-2 (terms); NIST/SEMATECH e-Handbook 2.4.4 (pooling); Searle, Casella and McCulloch (1992).
/// </remarks>
public sealed record GroupFinding(
    IReadOnlyList<GroupRow> Groups, Estimate Within, CapabilityIndices? Indices, ConfidenceInterval Cp, ConfidenceInterval Cpk, OneWayComponents? Components, string? Withheld)
{
    /// <summary>Below this probability of a larger F the groups count as different. Common practice, no source.</summary>
    public const double Significance = 0.05;

    /// <summary>True when the group means differ by more than chance explains; null when that cannot be tested.</summary>
    public bool? Differ => Components is { Withheld: null, PValue: { } p } ? p < Significance : null;

    /// <summary>From a sample with groups.</summary>
    public static GroupFinding Of(CapabilitySample sample, SampleMoments overall, LimitPair limits, double confidence)
    {
        double[][] values = [.. sample.Values.Zip(sample.Groups).GroupBy(v => v.Second, StringComparer.Ordinal).Select(g => g.Select(v => v.First).ToArray())];
        string[] names = [.. sample.Groups.Distinct(StringComparer.Ordinal)];
        GroupRow[] rows = [.. names.Zip(values, (name, v) => new GroupRow(name, SampleMoments.Of(v)))];
        var within = PooledDeviation.Of([.. rows.Select(r => r.Moments.StandardDeviation ?? 0.0)], [.. rows.Select(r => (int)r.Moments.Count - 1)]);
        string? why = rows.Length < 2 ? "all values are of one group"
            : within.Value is null ? "no group has two values, so none shows a spread within"
            : within.Value == 0.0 ? "the values within each group are equal" : null;
        if (why is not null)
        {
            var none = ConfidenceInterval.Withhold(why, confidence, overall.Count);
            return new(rows, Estimate.Withhold(why, overall.Count), null, none, none, null, why);
        }

        int count = (int)within.Count!.Value + 1;
        var indices = MomentCapability.Of(overall.Mean, within.Value!.Value, limits);
        return new(
            rows, within, indices,
            indices.Cp is { } cp ? CapabilityInterval.Cp(cp, count, confidence) : ConfidenceInterval.Withhold("it needs both limits", confidence, overall.Count),
            CapabilityInterval.Cpk(indices.Cpk!.Value, count, confidence), OneWayComponents.Of(values), null);
    }
}
