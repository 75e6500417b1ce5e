using System.Collections.Immutable;
using CureSim.Core.Statistics;
using CureSim.Reports.Runs;
using CureSim.Reports.Text;
using CureSim.Studies.Capability;

namespace CureSim.Reports.Capability;

/// <summary>The answer about a sample in about ten lines.</summary>
public static class CapabilityAnswer
{
    /// <summary>The heading: which column of which file, and how the brackets are read.</summary>
    public static string Heading(CapabilityAnalysis analysis, CapabilityContext context)
    {
        ArgumentNullException.ThrowIfNull(analysis);
        ArgumentNullException.ThrowIfNull(context);
        return $"{context.File}, column \"{context.Column}\": {Format.Count(analysis.Moments.Count)} values, {IntervalText.Limits(analysis.Settings.Limits, context.Unit)}; "
            + $"( ) {CapabilityWords.Confidence(analysis)} interval";
    }

    /// <summary>The lines.</summary>
    public static ImmutableArray<AnswerLine> Of(CapabilityAnalysis analysis, CapabilityContext context)
    {
        ArgumentNullException.ThrowIfNull(analysis);
        ArgumentNullException.ThrowIfNull(context);
        var lines = ImmutableArray.CreateBuilder<AnswerLine>();
        lines.Add(new("Ppk", Overall(analysis)));
        if (analysis.Requirement is { } requirement)
        {
            lines.Add(new("Required", Required(requirement, analysis), requirement.IsShown ? AnswerTone.Met : AnswerTone.Missed));
        }

        lines.Add(new("Which to use", CapabilityWords.WhichToUse(analysis)));
        lines.Add(new("Normality", CapabilityWords.Tests(analysis.Normality)));
        lines.Add(new("Sample", Spread(analysis, context)));
        lines.Add(new("Cpk, short-term", ShortTerm(analysis)));
        lines.Add(new("Percentiles", Percentiles(analysis, context)));
        lines.Add(new("Outside", Outside(analysis)));
        lines.Add(new("Tolerance interval", Tolerance(analysis, context)));
        if (analysis.Conformity is { } conformity)
        {
            lines.Add(new("Uncertainty", Conformity(conformity, analysis, context)));
        }

        lines.Add(new("Screening", analysis.Screening.Findings.Count == 0 ? "no sign of rounded, copied or stuck readings" : string.Join(" ", analysis.Screening.Findings)));
        return lines.ToImmutable();
    }

    private static string Overall(CapabilityAnalysis analysis)
    {
        var overall = analysis.Overall;
        bool two = analysis.Settings.Limits is { Lower: not null, Upper: not null };
        string at = overall.Indices.Cpl is { } l && (overall.Indices.Cpu is not { } u || l <= u) ? "lower" : "upper";
        string confidence = CapabilityWords.Confidence(analysis);
        string exact = two ? $"Pp {IntervalText.Of(overall.Pp)}" : $"at least {Format.Value(overall.PpkLower.Lower!.Value, null, 3)} with {confidence} confidence (one-sided, exact)";
        string judged = analysis.Use switch
        {
            JudgingIndex.Percentiles => $"{EstimateText(analysis.Percentiles.Ppk)} by percentiles; by mean and standard deviation ",
            JudgingIndex.PowerTransform => $"{IntervalText.Of(analysis.Power.Ppk)} after a Box–Cox power; by mean and standard deviation ",
            JudgingIndex.None => "withheld, see below; by mean and standard deviation it would be ",
            _ => "",
        };
        return $"{judged}{IntervalText.Of(overall.Ppk)} at the {at} limit; {exact}";
    }

    private static string Required(RequirementFinding requirement, CapabilityAnalysis analysis)
    {
        string required = $"{Format.Value(requirement.Required)} with {CapabilityWords.Confidence(analysis)} confidence: ";
        if (requirement is { Observed: { } observed, LowerLimit: { } lower })
        {
            string limit = $"{Format.Fixed(observed, 2)} seen, lower limit {Format.Fixed(lower, 2)}";
            string enough = requirement.IsShown ? ""
                : requirement.EnoughParts is { } n ? $"; {Format.Count(n)} parts with the same index would show it"
                : observed <= requirement.Required ? "; more parts with the same index would not show it" : "";
            string caution = requirement.IsShown && analysis.Groups?.Differ is true ? "; the groups differ, so this limit is too high" : "";
            return $"{required}{(requirement.IsShown ? "shown" : "NOT SHOWN")}, {limit}{enough}{caution}";
        }

        return $"{required}NOT SHOWN, {requirement.Withheld}";
    }

    private static string Spread(CapabilityAnalysis analysis, CapabilityContext context)
    {
        var overall = analysis.Overall;
        string target = analysis.Settings.Limits.Target is { } t
            ? $"; target {Format.Value(t)} is {(overall.Mean.Lower <= t && t <= overall.Mean.Upper ? "inside" : "outside")} the interval of the mean" : "";
        return $"n = {Format.Count(analysis.Moments.Count)}, mean {IntervalText.Of(overall.Mean, context.Unit)}, standard deviation {IntervalText.Of(overall.Deviation, context.Unit)}, "
            + $"from {Format.Value(analysis.Sample.Values.Min())} to {Format.Value(analysis.Sample.Values.Max())}{target}";
    }

    private static string ShortTerm(CapabilityAnalysis analysis)
    {
        string words = CapabilityWords.ShortTerm(analysis);
        return analysis.Groups is { Withheld: null } groups
            ? $"{IntervalText.Of(groups.Cpk)}{(groups.Cp.Withheld is null ? $", Cp {IntervalText.Of(groups.Cp)}" : "")} from {Format.Count(groups.Groups.Count)} groups; {words}"
                + (groups.Components?.PValue is { } p ? $" ({IntervalText.Probability(p)})" : "")
            : words;
    }

    private static string Percentiles(CapabilityAnalysis analysis, CapabilityContext context)
    {
        var p = analysis.Percentiles;
        string median = $"X50 {IntervalText.Of(p.Median, context.Unit)}";
        string outer = p.Low.Withheld is null && p.High.Withheld is null
            ? $", X0.135 {IntervalText.Of(p.Low, context.Unit)}, X99.865 {IntervalText.Of(p.High, context.Unit)}"
            : "";
        string index = p.Ppk.Value is not null ? $"; index {EstimateText(p.Ppk)}, bootstrap 95 %"
            : $"; {(outer.Length > 0 ? "index" : "X0.135, X99.865 and their index")} withheld ({p.Ppk.Withheld})";
        return median + outer + index;
    }

    private static string Outside(CapabilityAnalysis analysis)
    {
        var o = analysis.Outside;
        string side = o.Count == 0 ? "one-sided, " : "";
        string count = o.Count == 0 ? $"none of {Format.Count(analysis.Moments.Count)}" : $"{Format.Count(o.Count)} of {Format.Count(analysis.Moments.Count)} ({Format.Count(o.Below)} below, {Format.Count(o.Above)} above)";
        return $"{count}: {IntervalText.Fraction(o.ClopperPearson)} ({side}Clopper–Pearson), {IntervalText.Fraction(o.Wilson)} (Wilson); under the normal fit {IntervalText.Fraction(o.Fitted)}";
    }

    private static string Tolerance(CapabilityAnalysis analysis, CapabilityContext context)
    {
        var t = analysis.Tolerance;
        string Verdict(ToleranceInterval i) => i.LiesWithin(analysis.Settings.Limits) is true ? "within the limits" : "NOT within the limits";
        string normal = analysis.Normality.Refused is true ? "the normal one is withheld, normality is refused"
            : $"{IntervalText.Span(t.Normal.Lower, t.Normal.Upper, context.Unit)} (normal, k = {Format.Fixed(t.Normal.Factor!.Value, 3)}), {Verdict(t.Normal)}";
        string wilks = t.Wilks.Withheld is { } why ? $"without a shape withheld ({why})"
            : $"without a shape {IntervalText.Span(t.Wilks.Lower, t.Wilks.Upper, context.Unit)}, {Verdict(t.Wilks)}";
        return $"{IntervalText.Stated(analysis.Settings.Reliability)} of the output with {CapabilityWords.Confidence(analysis)} confidence: {normal}; {wilks}";
    }

    private static string Conformity(ConformityFinding c, CapabilityAnalysis analysis, CapabilityContext context)
    {
        string line = c.Worst.Place is { } place ? $" (line {context.Lines[place].ToString(System.Globalization.CultureInfo.InvariantCulture)})" : "";
        string accept = c.Acceptance is { } limits
            ? $"accept {IntervalText.Span(limits.Lower, limits.Upper, context.Unit)}: {Format.Count(c.Accepted)} of {Format.Count(analysis.Moments.Count)} readings, {Format.Count(c.InGuardBand)} in the guard band"
            : $"no acceptance limits ({c.Withheld})";
        return $"{accept}; the true value conforms with probability {IntervalText.Sure(c.Worst.Conformance)} at the worst reading {Format.Value(c.Worst.Reading, context.Unit)}{line}, "
            + $"{IntervalText.Sure(c.Mean.Conformance)} at the mean";
    }

    private static string EstimateText(Estimate e) => e is { Value: { } v, Lower95: { } l, Upper95: { } u } ? Format.Interval(v, l, u) : $"withheld ({e.Withheld})";
}
