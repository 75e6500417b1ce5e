using System.Globalization;
using System.Text;

namespace CureSim.Reports.Text;

/// <summary>Numbers as people read them: the only place where a number becomes text for a page, a figure or a terminal.</summary>
/// <remarks>
/// Decimal point; thousands in threes with a narrow no-break space; a true minus sign; a no-break space before the unit (none before a degree sign).
/// Machine files use shortest round-trip text instead (see <c>Tables.CsvText</c>, <c>Json.JsonText</c>). For a terminal that cannot show
/// these characters pass the text through <see cref="TerminalText"/>. Grouping and the space before the unit: ISO 80000-1, clause 7 (recalled
/// from memory).
/// </remarks>
public static class Format
{
    internal const char GroupSpace = '\u202F';
    internal const char UnitSpace = '\u00A0';
    internal const char Minus = '\u2212';
    private const double LargestPlain = 1e9;
    private const double SmallestPlain = 1e-4;

    /// <summary>Half-width of a 95 % interval over its standard error: the normal quantile at 0.975.</summary>
    private const double HalfWidths95 = 1.959963984540054;

    /// <summary>A value with so many significant digits (4 unless told), trailing zeros kept out, and its unit.</summary>
    public static string Value(double value, string? unit = null, int significant = 4)
    {
        RequireFinite(value);
        double size = Math.Abs(value);
        if (value != 0 && (size >= LargestPlain || size < SmallestPlain))
        {
            return WithUnit(PowerOfTen(value, significant), unit);
        }

        // Digits before the decimal point are never rounded away: 12 346 stays 12 346 at four digits.
        int decimals = Math.Max(0, Digits.ForSignificant(value, significant));
        return WithUnit(TrimZeros(Fixed(value, decimals)), unit);
    }

    /// <summary>A value with exactly so many decimals; a negative number rounds to tens, hundreds …</summary>
    public static string Fixed(double value, int decimals, string? unit = null)
    {
        RequireFinite(value);
        if (decimals < 0)
        {
            double place = Math.Pow(10, -decimals);
            value = Math.Round(value / place, MidpointRounding.AwayFromZero) * place;
            decimals = 0;
        }

        string text = Math.Abs(value).ToString("F" + Math.Min(decimals, 15), CultureInfo.InvariantCulture);
        bool zero = text.AsSpan().IndexOfAnyExcept('0', '.') < 0;
        string grouped = Group(text);
        return WithUnit(value < 0 && !zero ? Minus + grouped : grouped, unit);
    }

    /// <summary>A whole number.</summary>
    public static string Count(long value, string? unit = null)
    {
        string digits = Group(value.ToString(CultureInfo.InvariantCulture).TrimStart('-'));
        return WithUnit(value < 0 ? Minus + digits : digits, unit);
    }

    /// <summary>A value alone, rounded to the place at which it would stand beside its 95 % interval: two digits of 1.96 standard errors.</summary>
    public static string Rounded(double value, double standardError, string? unit = null) =>
        Digits.ForStandardError(HalfWidths95 * standardError) is { } decimals ? Fixed(value, decimals, unit) : Value(value, unit);

    /// <summary>A value and its standard error, "7.130 (SE 0.012) J/cm²"; without a usable standard error the value alone.</summary>
    public static string WithError(double value, double standardError, string? unit = null) =>
        Digits.ForStandardError(standardError) is { } decimals
            ? WithUnit($"{Fixed(value, decimals)} (SE{UnitSpace}{Fixed(standardError, decimals)})", unit)
            : Value(value, unit);

    /// <summary>A value and its 95 % interval, "1.38 (1.31 to 1.45)"; its half-width is the uncertainty that is told, so two digits of it rule all three numbers (JCGM 100, 7.2.6).</summary>
    public static string Interval(double value, double lower, double upper, string? unit = null)
    {
        RequireFinite(value);
        RequireFinite(lower);
        RequireFinite(upper);
        if (lower > upper)
        {
            throw new ArgumentException($"The interval's lower end {lower.ToString("R", CultureInfo.InvariantCulture)} is above its upper end.");
        }

        int decimals = Digits.ForStandardError((upper - lower) / 2) ?? Math.Max(0, Digits.ForSignificant(value, 4));
        return WithUnit($"{Fixed(value, decimals)} ({Fixed(lower, decimals)} to {Fixed(upper, decimals)})", unit);
    }

    /// <summary>A fraction as parts per million; digits by the standard error of the fraction where it is given.</summary>
    public static string PartsPerMillion(double fraction, double? standardError = null) =>
        standardError is { } error ? Rounded(fraction * 1e6, error * 1e6, "ppm") : Value(fraction * 1e6, "ppm", 3);

    /// <summary>A fraction as per cent; digits by the standard error of the fraction where it is given.</summary>
    public static string PerCent(double fraction, double? standardError = null) =>
        standardError is { } error ? Rounded(fraction * 100, error * 100, "%") : Value(fraction * 100, "%", 3);

    /// <summary>Hours, whole above ten and with one decimal below; digits by the standard error where it is given.</summary>
    public static string Hours(double hours, double? standardError = null) =>
        standardError is { } error && Digits.ForStandardError(error) is { } decimals
            ? Fixed(hours, Math.Min(decimals, 1), "h")
            : Fixed(hours, Math.Abs(hours) < 10 ? 1 : 0, "h");

    /// <summary>"2×10⁻⁵": mantissa of so many digits, trailing zeros kept out.</summary>
    internal static string PowerOfTen(double value, int significant)
    {
        string text = Math.Abs(value).ToString("E" + (significant - 1), CultureInfo.InvariantCulture);
        int mark = text.IndexOf('E');
        int exponent = int.Parse(text.AsSpan(mark + 1), NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture);
        string mantissa = TrimZeros(text[..mark]);
        string sign = value < 0 ? Minus.ToString() : "";
        return mantissa == "1" ? $"{sign}10{Superscript(exponent)}" : $"{sign}{mantissa}×10{Superscript(exponent)}";
    }

    internal static string Superscript(int exponent)
    {
        const string raised = "⁰¹²³⁴⁵⁶⁷⁸⁹";
        var text = new StringBuilder(exponent < 0 ? "⁻" : "");
        foreach (char digit in Math.Abs(exponent).ToString(CultureInfo.InvariantCulture))
        {
            text.Append(raised[digit - '0']);
        }

        return text.ToString();
    }

    private static string WithUnit(string number, string? unit) =>
        string.IsNullOrEmpty(unit) ? number : unit is "°" ? number + unit : number + UnitSpace + unit;

    private static string TrimZeros(string number) => number.Contains('.') ? number.TrimEnd('0').TrimEnd('.') : number;

    private static string Group(string digits)
    {
        int point = digits.IndexOf('.');
        int end = point < 0 ? digits.Length : point;
        var text = new StringBuilder(digits);
        for (int i = end - 3; i > 0; i -= 3)
        {
            text.Insert(i, GroupSpace);
        }

        return text.ToString();
    }

    private static void RequireFinite(double value)
    {
        if (!double.IsFinite(value))
        {
            throw new ArgumentOutOfRangeException(nameof(value), value, "Only finite numbers are shown; say in words why one is missing.");
        }
    }
}
