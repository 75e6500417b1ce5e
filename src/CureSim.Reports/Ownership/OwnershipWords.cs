using CureSim.Core.Statistics;
using CureSim.Reports.Text;
using CureSim.Studies.Ownership;

namespace CureSim.Reports.Ownership;

/// <summary>Money, chances and verdicts in words.</summary>
internal static class OwnershipWords
{
    /// <summary>Money with its interval: digits by its error.</summary>
    public static string Money(Estimate e, string currency) => Runs.FigureText.Of(e, currency);

    /// <summary>Money alone, rounded as its error allows.</summary>
    public static string Short(Estimate e, string currency) => e is { Value: { } v }
        ? e is { Lower95: { } l, Upper95: { } u } && u > l ? Format.Rounded(v, (u - l) / 3.92, currency) : Format.Value(v, currency)
        : "withheld";

    /// <summary>A chance in whole per cent with its interval.</summary>
    public static string Chance(Estimate e) => e switch
    {
        { Value: { } v, Lower95: { } l, Upper95: { } u } => $"{Percent(v)} ({Percent(l)} to {Percent(u)})",
        _ => $"withheld ({e.Withheld})",
    };

    /// <summary>A share: 100 % only for all, 0 % only for none.</summary>
    public static string Percent(double share) => share is > 0.0 and < 0.005 ? "below 0.5 %" : share is > 0.995 and < 1.0 ? "over 99.5 %" : Format.Fixed(100.0 * share, 0, "%");

    /// <summary>What a row of the what-if says.</summary>
    public static string Decision(WhatIfRow row, WhatIf whatIf) => row.Worst(row.Physical ? whatIf.Smaller : whatIf.Decision) switch
    {
        Outcome.Same => "stands",
        Outcome.Open => "left open",
        _ => "turns",
    };

    /// <summary>An input as people name it: its path without the list's key.</summary>
    public static string Input(string path) => path.StartsWith("costs.", StringComparison.Ordinal) ? path["costs.".Length..].Replace('_', ' ')
        : path.StartsWith("ownership.", StringComparison.Ordinal) ? path["ownership.".Length..].Replace('_', ' ').Replace('.', ' ') : path.Replace('_', ' ');

    /// <summary>The flows' convention.</summary>
    public static string Convention(FlowTiming timing) => timing switch
    {
        FlowTiming.Middle => "middle of year",
        FlowTiming.Begin => "beginning of year",
        FlowTiming.Continuous => "evenly over the year",
        _ => "end of year",
    };
}
