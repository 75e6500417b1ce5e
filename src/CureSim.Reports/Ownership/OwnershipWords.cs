using CureSim.Core.Cell;
using CureSim.Core.Distributions;
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

    /// <summary>A difference without a sign: "64 500 (60 700 to 68 200) EUR less", "800 EUR less (from 4 000 EUR less to 2 400 EUR more)".</summary>
    /// <param name="e">What one costs less what the other costs.</param>
    /// <param name="currency">Currency.</param>
    public static string MoreOrLess(Estimate e, string currency)
    {
        ArgumentNullException.ThrowIfNull(e);
        if (e.Value is not { } v)
        {
            return $"withheld ({e.Withheld})";
        }

        string side = v < 0.0 ? "less" : "more";
        return e is { Lower95: < 0.0 and var low, Upper95: > 0.0 and var high }
            ? $"{Format.Fixed(Math.Abs(v), Decimals(low, high), currency)} {side} ({Between(low, high, currency)})"
            : $"{Amount(v < 0.0 ? Magnitude(e) : e, currency)} {side}";
    }

    /// <summary>"LED costs 25 700 EUR less than lamp over 8 years, 95 % interval from 22 000 to 29 500 EUR less".</summary>
    /// <param name="option">Whose cost.</param>
    /// <param name="other">Less whose.</param>
    /// <param name="e">The mean difference.</param>
    /// <param name="years">Over how many years.</param>
    /// <param name="currency">Currency.</param>
    public static string Costs(string option, string other, Estimate e, int years, string currency)
    {
        ArgumentNullException.ThrowIfNull(e);
        if (e.Value is not { } v)
        {
            return $"how much {option} and {other} differ is withheld ({e.Withheld})";
        }

        string side = v < 0.0 ? "less" : "more";
        return e is { Lower95: { } low, Upper95: { } high } && !IsExact(e)
            ? $"{option} costs {Format.Fixed(Math.Abs(v), Decimals(low, high), currency)} {side} than {other} over {years} years, 95 % interval {Between(low, high, currency)}"
            : $"{option} costs {Format.Value(Math.Abs(v), currency)} {side} than {other} over {years} years";
    }

    /// <summary>"from 22 000 to 29 500 EUR less"; ends on both sides of zero are told each.</summary>
    public static string Between(double low, double high, string currency)
    {
        int decimals = Decimals(low, high);
        string Plain(double x, string? unit = null) => Format.Fixed(Math.Abs(x), decimals, unit);
        return low < 0.0 && high > 0.0 ? $"from {Plain(low, currency)} less to {Plain(high, currency)} more"
            : high <= 0.0 ? $"from {Plain(high)} to {Plain(low, currency)} less" : $"from {Plain(low)} to {Plain(high, currency)} more";
    }

    /// <summary>A share of futures with its standard error: "68.8 ± 1.5 %".</summary>
    public static string ShareWithError(Estimate e)
    {
        ArgumentNullException.ThrowIfNull(e);
        if (e.Value is not { } share)
        {
            return $"withheld ({e.Withheld})";
        }

        double error = e.StandardError ?? ((e.Upper95 - e.Lower95) / HalfWidths) ?? 0.0;
        return Digits.ForStandardError(100.0 * error) is { } decimals ? $"{Format.Fixed(100.0 * share, decimals)} ± {Format.Fixed(100.0 * error, decimals, "%")}" : Percent(share);
    }

    /// <summary>The size of a difference below zero.</summary>
    public static Estimate Magnitude(Estimate e)
    {
        ArgumentNullException.ThrowIfNull(e);
        return e.Value is { } v ? Estimate.Bounded(-v, e.StandardError, -e.Upper95, -e.Lower95, e.Count) : e;
    }

    // Standard errors in the length of a 95 % interval.
    private const double HalfWidths = 3.92;

    private static int Decimals(double low, double high) => high > low ? Digits.ForSignificant((high - low) / 2.0, 2) : 0;

    /// <summary>A value of an input in its trade unit; of a factor that is unknown the factor.</summary>
    public static string ValueOf(WhatIfRow row, double value, OwnershipResult study)
    {
        ArgumentNullException.ThrowIfNull(row);
        ArgumentNullException.ThrowIfNull(study);
        if (row.Path.StartsWith("costs.", StringComparison.Ordinal))
        {
            return Format.Value(value, study.Currency, 3);
        }

        // What is only unknown varies by 1 and its unknown is the value itself; otherwise the unknown is a factor.
        bool factor = row.Physical && new[] { study.Challenger, study.Reference }.SelectMany(o => ScenarioQuantities.Of(o.Run.Scenario)).Any(q => q.Path == row.Path && q.Varies is not FixedValue { Value: 1.0 });
        if (!factor && row.Path is "ownership.supply_ends" or "ownership.project.duration" or "ownership.project.repeat")
        {
            double years = value / study.Reference.Run.Scenario.Production.YearSeconds;
            return years >= 1.0 ? Format.Value(years, "yr", 3) : Format.Value(12.0 * years, "months", 3);
        }

        var (unit, perSi) = InputNames.UnitOf(row.Path);
        return factor ? "× " + Format.Value(value, null, 3) : Format.Value(value * perSi, unit, 3);
    }

    /// <summary>An input as people name it.</summary>
    public static string Input(string path) => InputNames.Of(path);

    /// <summary>The flows' convention.</summary>
    public static string Convention(FlowTiming timing) => timing switch
    {
        FlowTiming.Middle => "middle of year",
        FlowTiming.Begin => "beginning of year",
        FlowTiming.Continuous => "evenly over the year",
        _ => "end of year",
    };
}
