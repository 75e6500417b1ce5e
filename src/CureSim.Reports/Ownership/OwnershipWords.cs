using CureSim.Core.Statistics;
using CureSim.Reports.Text;
using CureSim.Studies.Ownership;

namespace CureSim.Reports.Ownership;

/// <summary>Money, chances and verdicts in words.</summary>
internal static class OwnershipWords
{
    /// <summary>Money with its interval: digits by its error.</summary>
    public static string Money(Estimate e, string currency) => Amount(e, currency);

    /// <summary>Any amount with its interval; one that is the same in every future alone.</summary>
    public static string Amount(Estimate e, string? unit) => IsExact(e) ? Format.Value(e.Value!.Value, unit) : Runs.FigureText.Of(e, unit);

    /// <summary>Money alone, rounded as its error allows.</summary>
    public static string Short(Estimate e, string currency) => e is { Value: { } v }
        ? e is { Lower95: { } l, Upper95: { } u } && !IsExact(e) ? Format.Rounded(v, (u - l) / 3.92, currency) : Format.Value(v, currency)
        : "withheld";

    // What is the same in every future differs from its mean by rounding only.
    private static bool IsExact(Estimate e) => e is { Value: { } v, Lower95: { } l, Upper95: { } u } && u - l <= 1e-9 * Math.Abs(v);

    /// <summary>Nonconforming parts: what a simulation of so many states cannot tell from none is printed as below a bound.</summary>
    public static string Ppm(Estimate e) => e switch
    {
        { Value: < LeastPpm, Upper95: null or < LeastPpm } => $"below {Format.Value(LeastPpm, "ppm", 1)}",
        { Value: not null } => Runs.FigureText.Of(e, "ppm"),
        _ => $"withheld ({e.Withheld})",
    };

    /// <summary>A smaller fraction rests on tails of the inputs' distributions that nobody has seen.</summary>
    public const double LeastPpm = 0.01;

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
    public static string Input(string path)
    {
        foreach (string block in (string[])["costs.", "ownership.", "disturbances."])
        {
            path = path.StartsWith(block, StringComparison.Ordinal) ? path[block.Length..] : path;
        }

        return path.EndsWith(".rate", StringComparison.Ordinal) ? $"rate of {path[..^".rate".Length]}" : path.Replace('_', ' ').Replace('.', ' ');
    }

    /// <summary>The flows' convention.</summary>
    public static string Convention(FlowTiming timing) => timing switch
    {
        FlowTiming.Middle => "middle of year",
        FlowTiming.Begin => "beginning of year",
        FlowTiming.Continuous => "evenly over the year",
        _ => "end of year",
    };
}
