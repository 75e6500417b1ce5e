using System.Globalization;
using System.Text.RegularExpressions;

namespace CureSim.Scenarios;

/// <summary>A value as read.</summary>
/// <param name="Si">In SI units.</param>
/// <param name="Number">The number as written.</param>
/// <param name="PlusMinus">True when it was written with ±.</param>
/// <param name="Word">The calendar word that it was written in, or null.</param>
internal readonly record struct ReadValue(double Si, double Number, bool PlusMinus, CalendarWord? Word);

/// <summary>Reads "12 mm", "0.3 %/1000 h", "1 week" …</summary>
internal static partial class ValueText
{
    private const double Largest = 1e100; // beyond it conversion of units would overflow, and nothing in a cell is as large

    /// <summary>Reads a value; on failure <paramref name="suggestion"/> may hold what was probably meant.</summary>
    public static bool TryRead(string text, Dimension dimension, WorkCalendar clock, out ReadValue value, out string? suggestion)
    {
        value = default;
        suggestion = null;
        string plain = Normal(text);
        Match match = NumberThenUnit().Match(plain);
        if (!match.Success)
        {
            return TryReadLoneWord(plain, dimension, clock, ref value) || Fail(text, dimension, out suggestion);
        }

        string unit = match.Groups["unit"].Value.Trim();
        if (!double.TryParse(match.Groups["number"].Value, NumberStyles.Float, CultureInfo.InvariantCulture, out double number) || !(Math.Abs(number) <= Largest))
        {
            return Fail(text, dimension, out suggestion);
        }

        bool plusMinus = match.Groups["pm"].Value.Length > 0;
        if (dimension.Form == DimensionForm.Bare)
        {
            value = new ReadValue(number, number, plusMinus, null);
            return unit.Length == 0;
        }

        if (unit.Length == 0)
        {
            suggestion = $"did you mean \"{match.Groups["number"].Value} {dimension.ShownUnit}\"?";
            return false;
        }

        (double Si, CalendarWord? Word)? si = Convert(number, unit, dimension, clock);
        if (si is null)
        {
            string? near = NearestWord.Of(unit, Spellings(dimension)) ?? Spellings(dimension).FirstOrDefault(s => IsStart(s, unit));
            suggestion = near is null ? null : $"did you mean \"{match.Groups["number"].Value} {near}\"?";
            return false;
        }

        value = new ReadValue(si.Value.Si, number, plusMinus, si.Value.Word);
        return double.IsFinite(value.Si);
    }

    private static (double Si, CalendarWord? Word)? Convert(double number, string unit, Dimension dimension, WorkCalendar clock)
    {
        if (dimension.Form == DimensionForm.NumberAndUnit)
        {
            return dimension.Units.FirstOrDefault(u => u.Answers(unit)) is { } plain ? (plain.ToSi(number, clock), plain.Word) : null;
        }

        Match rate = Stroke().Match(unit);
        bool percent = dimension.Form is DimensionForm.PercentRate or DimensionForm.PercentPerCount;
        if (!rate.Success || percent != (rate.Groups["percent"].Value.Length > 0))
        {
            return null;
        }

        string countText = rate.Groups["count"].Value;
        double count = countText.Length == 0 ? 1 : double.Parse(countText, CultureInfo.InvariantCulture);
        double above = percent ? number / 100 : number;
        string below = rate.Groups["unit"].Value;
        if (!(count > 0))
        {
            return null;
        }

        if (dimension.Form == DimensionForm.PercentPerCount)
        {
            return below is "exposure" or "exposures" || (below.Length == 0 && countText.Length > 0) ? (above / count, null) : null;
        }

        return dimension.Units.FirstOrDefault(u => u.Answers(below)) is { } time ? (above / time.ToSi(count, clock), time.Word) : null;
    }

    // "quarter" alone means one quarter.
    private static bool TryReadLoneWord(string text, Dimension dimension, WorkCalendar clock, ref ReadValue value)
    {
        Unit? word = dimension.Form == DimensionForm.NumberAndUnit
            ? dimension.Units.FirstOrDefault(u => u.Word is not null && u.Answers(text))
            : null;
        if (word is null)
        {
            return false;
        }

        value = new ReadValue(word.ToSi(1, clock), 1, false, word.Word);
        return true;
    }

    private static bool Fail(string text, Dimension dimension, out string? suggestion)
    {
        // "20,000 h" and "3,5 mm": neither comma is accepted, because each means the other to somebody.
        Match comma = CommaNumber().Match(text);
        suggestion = comma.Success
            ? $"did you mean \"{text.Replace(comma.Value, comma.Groups[2].Length == 3 ? comma.Groups[1].Value + comma.Groups[2].Value : comma.Groups[1].Value + "." + comma.Groups[2].Value)}\"?"
            : NearestWord.Question(text, dimension.Units.Where(u => u.Word is not null).Select(u => u.Symbol));
        return false;
    }

    // "sec" for "s", "W" for "W/cm2".
    private static bool IsStart(string symbol, string written) =>
        char.IsLetter(symbol[0]) && (written.StartsWith(symbol, StringComparison.Ordinal) || symbol.StartsWith(written, StringComparison.Ordinal));

    private static IEnumerable<string> Spellings(Dimension dimension) => dimension.Form switch
    {
        DimensionForm.Rate => dimension.Units.Select(u => "/" + u.Symbol),
        DimensionForm.PercentRate => dimension.Units.Select(u => "%/" + u.Symbol).Append("%/1000 h"),
        DimensionForm.PercentPerCount => ["%/10000", "%/exposure", "%/10000 exposures"],
        _ => dimension.Units.SelectMany(u => u.Spellings.Prepend(u.Symbol)),
    };

    private static string Normal(string text) =>
        Spaces().Replace(text.Trim().Replace('²', '2').Replace("\u2212", "-").Replace('\u00A0', ' '), " ");

    [GeneratedRegex(@"^(?<pm>±|\+/-|\+-)?\s*(?<number>[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?)\s*(?<unit>(?:[^\d\s,.].*)?)$")]
    private static partial Regex NumberThenUnit();

    [GeneratedRegex(@"^(?<percent>%?)\s*/\s*(?<count>\d+(?:\.\d+)?)?\s*(?<unit>[A-Za-z][A-Za-z ]*)?$")]
    private static partial Regex Stroke();

    [GeneratedRegex(@"(\d+),(\d+)")]
    private static partial Regex CommaNumber();

    [GeneratedRegex(@"\s+")]
    private static partial Regex Spaces();
}
