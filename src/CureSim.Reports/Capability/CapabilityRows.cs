using System.Collections.Immutable;
using CureSim.Core.Statistics;
using CureSim.Studies.Capability;

namespace CureSim.Reports.Capability;

/// <summary>One figure of a sample, for the table and the document.</summary>
/// <param name="Id">Machine name with its unit.</param>
/// <param name="Meaning">In words.</param>
/// <param name="Unit">Unit as people read it; empty for a plain number.</param>
/// <param name="Figure">Value and interval, or the reason why it is withheld.</param>
/// <param name="Method">How the interval was made.</param>
/// <param name="Source">Where the method stands.</param>
public sealed record CapabilityRow(string Id, string Meaning, string Unit, ConfidenceInterval Figure, string Method, string Source);

/// <summary>All figures of a sample in one list, from which table and document are written.</summary>
public static class CapabilityRows
{
    private const string Handbook = "NIST/SEMATECH e-Handbook";
    private const string Exact = "Chou, Owen and Borrego 1990";

    /// <summary>The list.</summary>
    public static ImmutableArray<CapabilityRow> Of(CapabilityAnalysis analysis, CapabilityContext context)
    {
        ArgumentNullException.ThrowIfNull(analysis);
        ArgumentNullException.ThrowIfNull(context);
        var rows = ImmutableArray.CreateBuilder<CapabilityRow>();
        string unit = context.Unit ?? "";
        void Add(string id, string meaning, ConfidenceInterval figure, string method, string source, string? of = null) => rows.Add(new(id, meaning, of ?? "", figure, method, source));

        var overall = analysis.Overall;
        Add(context.Header("mean"), "mean", overall.Mean, "Student", $"{Handbook} 1.3.5.2", unit);
        Add(context.Header("standard_deviation"), "standard deviation (n - 1)", overall.Deviation, "chi-square", $"{Handbook} 1.3.5.8", unit);
        Add("pp", "Pp: width between the limits over 6 standard deviations", overall.Pp, "chi-square, exact for a normal output", $"ISO 22514-2; {Handbook} 6.1.6");
        Add("ppl", "Ppl: index at the lower limit", overall.Ppl, "noncentral t, exact for a normal output", $"ISO 22514-2; {Exact}");
        Add("ppu", "Ppu: index at the upper limit", overall.Ppu, "noncentral t, exact for a normal output", $"ISO 22514-2; {Exact}");
        Add("ppk", "Ppk: the smaller index at a limit", overall.Ppk, "Bissell, approximate", "ISO 22514-2; Bissell 1990");
        bool two = analysis.Settings.Limits is { Lower: not null, Upper: not null };
        Add("ppk_lower_limit", "Ppk with its one-sided lower limit", overall.PpkLower, two ? "Bissell, approximate" : "noncentral t, exact for a normal output", two ? "Bissell 1990" : Exact);
        if (analysis.Groups is { } groups)
        {
            Add(
                context.Header("standard_deviation_within"), "standard deviation within groups, pooled", FromEstimate(groups.Within), "chi-square", $"{Handbook} 2.4.4", unit);
            Add("cp", "Cp: width over 6 standard deviations within groups", groups.Cp, "chi-square with the degrees of freedom within", $"ISO 22514-2; {Handbook} 6.1.6");
            Add("cpk", "Cpk: the smaller index at a limit, with the standard deviation within", groups.Cpk, "Bissell with degrees of freedom within + 1", "ISO 22514-2; Bissell 1990");
        }

        const string Ranks = "order statistics, any shape";
        const string RankSource = "ISO 22514-2; David and Nagaraja 2003";
        Add(context.Header("x0_135"), "0.135 % quantile", analysis.Percentiles.Low, Ranks, RankSource, unit);
        Add(context.Header("x50"), "median", analysis.Percentiles.Median, Ranks, RankSource, unit);
        Add(context.Header("x99_865"), "99.865 % quantile", analysis.Percentiles.High, Ranks, RankSource, unit);
        Add("ppk_percentile", "percentile index from the three quantiles", FromEstimate(analysis.Percentiles.Ppk), "percentile bootstrap, 2000 resamples", "ISO 22514-2; Efron and Tibshirani 1993");
        Add("box_cox_power", "power that makes the values most nearly normal", FromEstimate(analysis.Power.Lambda), "profile likelihood", "Box and Cox 1964");
        Add("ppk_after_power", "Ppk of the transformed values against the transformed limits", Usable(analysis.Power), "Bissell; the power's own error is not in it", $"{Handbook} 6.1.6; Bissell 1990");
        var outside = analysis.Outside;
        Add("outside_counted_percent", "outside the limits, counted", PerCent(outside.ClopperPearson), outside.Count == 0 ? "one-sided upper bound, exact" : "exact", "Clopper and Pearson 1934", "%");
        Add("outside_counted_wilson_percent", "the same, score interval", PerCent(outside.Wilson), outside.Count == 0 ? "one-sided upper bound, score" : "score", "Wilson 1927", "%");
        Add("outside_normal_percent", "outside the limits under the fitted normal law", PerCent(outside.Fitted), "one-sided upper bound by noncentral t, sides summed", $"ISO 22514-2; {Exact}", "%");
        return rows.ToImmutable();
    }

    private static ConfidenceInterval Usable(PowerFinding power) => power.Ppk.Withheld is not null || power.IsUsable ? power.Ppk
        : ConfidenceInterval.Withhold(
            power.Normality?.Refused is true ? "normality is refused after the power too" : "too few values to test the transformed ones", power.Ppk.Confidence, power.Ppk.Count);

    private static ConfidenceInterval FromEstimate(Estimate estimate) =>
        new(estimate.Value, estimate.Lower95, estimate.Upper95, 0.95, estimate.Count ?? 0, estimate.Withheld);

    private static ConfidenceInterval PerCent(ConfidenceInterval fraction) =>
        fraction with { Value = 100.0 * fraction.Value, Lower = 100.0 * fraction.Lower, Upper = 100.0 * fraction.Upper };
}
