namespace CureSim.Reports.Text;

/// <summary>How many decimals a number is shown with.</summary>
/// <remarks>
/// A standard error is given two significant digits and the value is rounded to the same place: u = c·10^l, c an integer of two digits,
/// and the rounding of u is done before l is read (0.0996 becomes 0.10, so l = −2). Source: JCGM 101:2008, 7.9.2; JCGM 100:2008, 7.2.6.
/// </remarks>
public static class Digits
{
    /// <summary>Decimals that leave <paramref name="significant"/> significant digits of a value; negative for tens, hundreds …</summary>
    /// <param name="value">Any finite number; 0 gives 0 decimals.</param>
    /// <param name="significant">1 … 15.</param>
    public static int ForSignificant(double value, int significant)
    {
        if (!double.IsFinite(value))
        {
            throw new ArgumentOutOfRangeException(nameof(value), value, "A number that is not finite has no digits.");
        }

        if (significant is < 1 or > 15)
        {
            throw new ArgumentOutOfRangeException(nameof(significant), significant, "1 to 15 significant digits.");
        }

        if (value == 0)
        {
            return 0;
        }

        // The exponent after rounding, read from the text of the rounded number: a logarithm may miss by one next to a power of ten.
        string text = Math.Abs(value).ToString("E" + (significant - 1), System.Globalization.CultureInfo.InvariantCulture);
        int exponent = int.Parse(text.AsSpan(text.IndexOf('E') + 1), System.Globalization.NumberStyles.AllowLeadingSign,
            System.Globalization.CultureInfo.InvariantCulture);
        return significant - 1 - exponent;
    }

    /// <summary>Decimals for a value whose standard error is known: two significant digits of the standard error.</summary>
    /// <param name="standardError">In the unit of the value. Not finite or not above zero: null is returned, the error rules nothing.</param>
    public static int? ForStandardError(double standardError) =>
        standardError > 0 && double.IsFinite(standardError) ? ForSignificant(standardError, 2) : null;
}
