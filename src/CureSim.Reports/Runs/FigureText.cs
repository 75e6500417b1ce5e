using CureSim.Core.Statistics;
using CureSim.Reports.Text;
using CureSim.Studies.Runs;

namespace CureSim.Reports.Runs;

/// <summary>Key figures as people read them: value, 95 % interval in round brackets, band over worlds in square ones.</summary>
internal static class FigureText
{
    /// <summary>"1.47 (1.43 to 1.51) [1.2 to 1.7]" with the unit at its end, or why it is withheld.</summary>
    public static string Of(KeyFigure figure) => Of(IsCounted(figure.Measure.Id) ? NotBelowNone(figure.Estimate) : figure.Estimate, figure.Measure.Unit is "1/yr" ? "a year" : figure.Measure.Unit)
        + (figure.Band is { Lower05: { } low, Upper95: { } high } ? $" [{Span(low, high)}]" : "");

    /// <summary>An estimate with its interval.</summary>
    public static string Of(Estimate estimate, string? unit = null) => estimate switch
    {
        { Value: { } v, Lower95: { } l, Upper95: { } u } when u > l => Format.Interval(v, l, u, unit),
        { Value: { } v } => Format.Value(v, unit),
        { Upper95: { } u } => $"below {Format.Value(u, unit)} ({estimate.Withheld})",
        { Lower95: { } l } => $"above {Format.Value(l, unit)} ({estimate.Withheld})",
        _ => $"withheld ({estimate.Withheld})",
    };

    private static bool IsCounted(string id) => id.EndsWith("_percent", StringComparison.Ordinal) || id.EndsWith("_ppm", StringComparison.Ordinal) || id.EndsWith("_per_year", StringComparison.Ordinal);

    // The symmetric interval of a rare event reaches below none, which no share and no count can; files keep it as it is.
    private static Estimate NotBelowNone(Estimate e) => e is { Value: >= 0.0 and var value, Lower95: < 0.0, Upper95: { } high } ? Estimate.Bounded(value, e.StandardError, 0.0, high, e.Count) : e;

    // Worlds that differ by less than this differ by rounding and noise: ten digits of a share of cells say nothing.
    private const double Alike = 1e-6;

    /// <summary>Two numbers with the digits that their difference deserves; one when they are equal (the worlds differ no more than their noise).</summary>
    private static string Span(double low, double high)
    {
        if (!(high - low > Alike * Math.Abs(high)))
        {
            return Format.Value(low, null, 3);
        }

        int decimals = Math.Max(0, Digits.ForSignificant((high - low) / 2.0, 2));
        return $"{Format.Fixed(low, decimals)} to {Format.Fixed(high, decimals)}";
    }
}
