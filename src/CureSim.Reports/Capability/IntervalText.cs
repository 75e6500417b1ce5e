using CureSim.Core.Statistics;
using CureSim.Reports.Text;

namespace CureSim.Reports.Capability;

/// <summary>Figures of a sample as people read them.</summary>
internal static class IntervalText
{
    private const double LeastPerCent = 1e-3; // a smaller fraction reads better in ppm

    /// <summary>"7.13 (6.98 to 7.28) J/cm²", "1.31 (at least 1.02)", or why it is withheld.</summary>
    public static string Of(ConfidenceInterval figure, string? unit = null) => figure switch
    {
        { Withheld: { } why } => $"withheld ({why})",
        { Value: { } v, Lower: { } l, Upper: { } u } => Format.Interval(v, l, u, unit),
        { Value: { } v, Lower: { } l } => $"{Format.Value(v, unit, 3)} (at least {Format.Value(l, null, 3)})",
        { Value: { } v, Upper: { } u } => $"{Format.Value(v, unit, 3)} (below {Format.Value(u, null, 3)})",
        _ => "not given",
    };

    /// <summary>A fraction in % or ppm with its interval.</summary>
    public static string Fraction(ConfidenceInterval fraction) => fraction switch
    {
        { Withheld: { } why } => $"withheld ({why})",
        { Lower: { } l, Upper: { } u, Value: { } v } => $"{Share(v)} ({Share(l)} to {Share(u)})",
        { Upper: { } u, Value: 0.0 } => $"below {Share(u)}",
        { Upper: { } u, Value: { } v } => $"{Share(v)} (below {Share(u)})",
        _ => "not given",
    };

    /// <summary>A fraction in % or, when it is small, in ppm.</summary>
    public static string Share(double fraction) => fraction is > 0.0 and < LeastPerCent ? Format.PartsPerMillion(fraction) : Format.PerCent(fraction);

    /// <summary>A stated confidence or reliability, every digit of it: "95 %", "99.9999 %".</summary>
    public static string Stated(double probability) => Format.Value(100.0 * probability, "%", 6);

    /// <summary>A probability of a test.</summary>
    public static string Probability(double p) => p < 0.001 ? "p < 0.001" : $"p = {Format.Fixed(p, p < 0.01 ? 4 : 2)}";

    /// <summary>A probability near one without claiming certainty.</summary>
    public static string Sure(double p) => p > 0.9999 ? "above 0.9999" : p < 0.0001 ? "below 0.0001" : Format.Fixed(p, p > 0.99 ? 4 : 2);

    /// <summary>The limits in words: "limits 5 and 11 J/cm²".</summary>
    public static string Limits(LimitPair limits, string? unit) => (limits.Lower, limits.Upper) switch
    {
        ({ } l, { } u) => $"limits {Format.Value(l)} and {Format.Value(u, unit)}",
        ({ } l, _) => $"lower limit {Format.Value(l, unit)}",
        (_, { } u) => $"upper limit {Format.Value(u, unit)}",
        _ => "no limits",
    };

    /// <summary>A span that may be open at an end: "5.4 to 9.1 J/cm²", "above 5.4 J/cm²".</summary>
    public static string Span(double? lower, double? upper, string? unit) => (lower, upper) switch
    {
        ({ } l, { } u) => $"{Rounded(l, u - l)} to {Rounded(u, u - l, unit)}",
        ({ } l, _) => $"above {Format.Value(l, unit)}",
        (_, { } u) => $"below {Format.Value(u, unit)}",
        _ => "nothing",
    };

    private static string Rounded(double value, double width, string? unit = null) =>
        width > 0.0 ? Format.Fixed(value, Math.Max(0, Digits.ForSignificant(width, 3)), unit) : Format.Value(value, unit);
}
