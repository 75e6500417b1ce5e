using System.Collections.Frozen;
using System.Text.RegularExpressions;
using CureSim.Reports.Tables;

namespace CureSim.Reports.Pages;

/// <summary>Machine headers as words: "irradiance_after_w_per_cm2" becomes "Irradiance after, W/cm²".</summary>
internal static partial class HeaderWords
{
    // Longest first where one ends like another.
    private static readonly (string Suffix, string Unit)[] Units =
    [
        ("_mj_per_cm2", "mJ/cm²"), ("_j_per_cm2", "J/cm²"), ("_mw_per_cm2", "mW/cm²"), ("_w_per_cm2", "W/cm²"), ("_per_year", "a year"), ("_percent", "%"), ("_ppm", "ppm"),
        ("_hours", "h"), ("_seconds", "s"), ("_years", "yr"), ("_mm", "mm"), ("_um", "µm"), ("_mpa", "MPa"), ("_kwh", "kWh"), ("_deg", "°"), ("_celsius", "°C"), ("_kg", "kg"), ("_ratio", "ratio"), ("_s", "s"),
    ];

    // Short forms of machine headers.
    private static readonly FrozenDictionary<string, string> Words = new Dictionary<string, string>
    {
        ["lower95"] = "95 % lower", ["upper95"] = "95 % upper", ["se"] = "standard error", ["sd"] = "standard deviation", ["ppk"] = "Ppk", ["cpk"] = "Cpk", ["pp"] = "Pp", ["cp"] = "Cp", ["cox"] = "Cox",
        ["p05"] = "5 % quantile", ["p10"] = "10 % quantile", ["p50"] = "median", ["p90"] = "90 % quantile", ["p95"] = "95 % quantile", ["wilson"] = "(Wilson)",
    }.ToFrozenDictionary(StringComparer.Ordinal);

    /// <summary>The heading of a column: its own when it has one, else its header in words with the unit at the end.</summary>
    public static string Of(Column column) => column.Heading != column.Header ? Capital(column.Heading) : Of(column.Header);

    /// <summary>A machine name in words with its unit at the end: "x0_135_j_per_cm2" becomes "0.135 % quantile, J/cm²".</summary>
    public static string Of(string header)
    {
        foreach (var (suffix, unit) in Units)
        {
            if (header.EndsWith(suffix, StringComparison.Ordinal))
            {
                string name = Spaced(header[..^suffix.Length]);
                return name.Length == 0 ? unit : $"{name}, {unit}";
            }
        }

        // The unit may stand before what is told of the value: "time_s_from", "dose_j_per_cm2_lower95".
        foreach (var (suffix, unit) in Units)
        {
            if (suffix.Length > 3 && header.IndexOf(suffix + "_", StringComparison.Ordinal) is var at and > 0)
            {
                return $"{Spaced(header[..at])} {Said(header[(at + suffix.Length)..])}, {unit}";
            }
        }

        return Spaced(header);
    }

    private static string Spaced(string header) => Capital(header is "r_squared" || header.StartsWith("r_squared_", StringComparison.Ordinal) ? ("R² " + Said(header["r_squared".Length..])).Trim()
        : Quantile().Match(header) is { Success: true } q ? $"{q.Groups[1].Value}{(q.Groups[2].Length > 0 ? "." + q.Groups[2].Value : "")} % quantile" : Said(header));

    private static string Said(string header) => string.Join(' ', header.Split('_', StringSplitOptions.RemoveEmptyEntries).Select(w => Words.GetValueOrDefault(w, w)));

    // A symbol (n, p, u) or a unit stays as it is written.
    private static string Capital(string text) => text.Length > 1 && text != "ppm" && char.IsAsciiLetterLower(text[0]) && char.IsAsciiLetter(text[1]) ? char.ToUpperInvariant(text[0]) + text[1..] : text;

    [GeneratedRegex("^x([0-9]+)(?:_([0-9]+))?$", RegexOptions.CultureInvariant, 1000)]
    private static partial Regex Quantile();
}
