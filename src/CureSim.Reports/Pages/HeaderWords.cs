using CureSim.Reports.Tables;

namespace CureSim.Reports.Pages;

/// <summary>Machine headers as words: "irradiance_after_w_per_cm2" becomes "irradiance after, W/cm²".</summary>
internal static class HeaderWords
{
    // Longest first where one ends like another.
    private static readonly (string Suffix, string Unit)[] Units =
    [
        ("_mj_per_cm2", "mJ/cm²"), ("_j_per_cm2", "J/cm²"), ("_mw_per_cm2", "mW/cm²"), ("_w_per_cm2", "W/cm²"), ("_per_year", "a year"), ("_percent", "%"), ("_ppm", "ppm"),
        ("_hours", "h"), ("_seconds", "s"), ("_years", "yr"), ("_mm", "mm"), ("_um", "µm"), ("_mpa", "MPa"), ("_kwh", "kWh"), ("_deg", "°"), ("_celsius", "°C"), ("_kg", "kg"), ("_ratio", "ratio"),
    ];

    /// <summary>The heading of a column: its own when it has one, else its header in words with the unit at the end.</summary>
    public static string Of(Column column)
    {
        if (column.Heading != column.Header)
        {
            return column.Heading;
        }

        foreach (var (suffix, unit) in Units)
        {
            if (column.Header.EndsWith(suffix, StringComparison.Ordinal))
            {
                string name = Spaced(column.Header[..^suffix.Length]);
                return name.Length == 0 ? unit : $"{name}, {unit}";
            }
        }

        // The unit may stand before what is told of the value: "time_s_from", "dose_j_per_cm2_lower95".
        foreach (var (suffix, unit) in Units)
        {
            if (suffix.Length > 3 && column.Header.IndexOf(suffix + "_", StringComparison.Ordinal) is var at and > 0)
            {
                return $"{Spaced(column.Header[..at])} {Spaced(column.Header[(at + suffix.Length)..])}, {unit}";
            }
        }

        return Spaced(column.Header);
    }

    private static string Spaced(string header) => header.Replace("lower95", "95 % lower", StringComparison.Ordinal).Replace("upper95", "95 % upper", StringComparison.Ordinal)
        .Replace('_', ' ').Trim();
}
