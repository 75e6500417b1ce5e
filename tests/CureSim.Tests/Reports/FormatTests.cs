using System.Text;
using CureSim.Reports.Text;

namespace CureSim.Tests.Reports;

public class FormatTests
{
    /// <summary>A standard uncertainty c·10^l with c of so many digits; decimals are −l. Source: JCGM 101:2008, 7.9.2; the first three are its
    /// examples, the last must be rounded before l is read (published figure recalled from memory).</summary>
    [Theory]
    [InlineData(0.00035, 2, 5)]
    [InlineData(0.00035, 1, 4)]
    [InlineData(2, 1, 0)]
    [InlineData(0.0754, 2, 3)]
    [InlineData(0.0754, 1, 2)]
    [InlineData(0.0996, 2, 2)]
    public void ForSignificant_Jcgm101Examples_SamePlace(double u, int digits, int decimals) =>
        Assert.Equal(decimals, Digits.ForSignificant(u, digits));

    /// <summary>Source: JCGM 100:2008, 7.2.2 and 7.2.6: 100.021 47 g with a standard uncertainty of 0.35 mg (published figure recalled from memory;
    /// groups after the decimal point are not used here).</summary>
    [Fact]
    public void WithError_Jcgm100Example_SameDigits() =>
        Assert.Equal("100.02147 (SE\u00A00.00035)\u00A0g", Format.WithError(100.021471, 0.00035, "g"));

    [Theory]
    [InlineData(7.13042, 0.0123, "7.130")]
    [InlineData(7.13042, 0.0996, "7.13")]
    [InlineData(12345, 340, "12\u202F350")]
    [InlineData(-0.004, 0.12, "0.00")]
    [InlineData(-12345.678, 1.2, "−12\u202F345.7")]
    public void Rounded_TwoDigitsOfTheHalfWidth(double value, double error, string text) => Assert.Equal(text, Format.Rounded(value, error));

    [Theory]
    [InlineData(double.NaN)]
    [InlineData(0)]
    [InlineData(double.PositiveInfinity)]
    public void Rounded_NoUsableError_FourDigits(double error) => Assert.Equal("7.135", Format.Rounded(7.13456, error));

    [Theory]
    [InlineData(0, null, "0")]
    [InlineData(1234567.8, null, "1\u202F234\u202F568")]
    [InlineData(999.96, null, "1\u202F000")]
    [InlineData(0.25, "J/cm²", "0.25\u00A0J/cm²")]
    [InlineData(17, "°", "17°")]
    [InlineData(23.5, "°C", "23.5\u00A0°C")]
    [InlineData(-3, "%", "−3\u00A0%")]
    [InlineData(0.000021, null, "2.1×10⁻⁵")]
    [InlineData(-1e-7, null, "−10⁻⁷")]
    [InlineData(6.02214e23, null, "6.022×10²³")]
    public void Value_Numbers_AsPeopleReadThem(double value, string? unit, string text) => Assert.Equal(text, Format.Value(value, unit));

    [Theory]
    [InlineData(1.384, 1.312, 1.452, null, "1.384 (1.312 to 1.452)")]
    [InlineData(0.9, -0.2, 2.1, "h", "0.9 (−0.2 to 2.1)\u00A0h")]

    // JCGM 100:2008, 7.2.6: an uncertainty has at most two significant digits, and the estimate ends at its place; its example y = 10,057 62 Ω with u = 27 mΩ is told as 10,058 Ω.
    [InlineData(10.05762, 10.05762 - 0.027, 10.05762 + 0.027, "Ω", "10.058 (10.031 to 10.085)\u00A0Ω")]
    [InlineData(1.40618, 1.39134, 1.42112, null, "1.406 (1.391 to 1.421)")]
    [InlineData(99.9922, 99.9809, 100.0, "%", "99.9922 (99.9809 to 100.0000)\u00A0%")]
    [InlineData(25741.03, 21964.37, 29517.69, "EUR", "25\u202F700 (22\u202F000 to 29\u202F500)\u00A0EUR")]
    [InlineData(18750, 15000, 22000, "h", "18\u202F800 (15\u202F000 to 22\u202F000)\u00A0h")]
    [InlineData(2, 2, 2, null, "2.000 (2.000 to 2.000)")]
    public void Interval_DigitsByItsWidth(double value, double lower, double upper, string? unit, string text) =>
        Assert.Equal(text, Format.Interval(value, lower, upper, unit));

    [Fact]
    public void SmallForms_Fractions_HoursAndCounts()
    {
        Assert.Equal("182\u00A0ppm", Format.PartsPerMillion(0.00018234));
        Assert.Equal("182.3\u00A0ppm", Format.PartsPerMillion(0.00018234, 0.0000012));
        Assert.Equal("12.3\u00A0%", Format.PerCent(0.12345));
        Assert.Equal("12.35\u00A0%", Format.PerCent(0.12345, 0.0012));
        Assert.Equal("18\u202F750\u00A0h", Format.Hours(18750.2));
        Assert.Equal("4.3\u00A0h", Format.Hours(4.26));
        Assert.Equal("18\u202F800\u00A0h", Format.Hours(18750.2, 1200));
        Assert.Equal("−1\u202F234\u202F567", Format.Count(-1234567));
        Assert.Equal("−9\u202F223\u202F372\u202F036\u202F854\u202F775\u202F808", Format.Count(long.MinValue));
    }

    [Fact]
    public void NotFinite_Refused()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => Format.Value(double.NaN));
        Assert.Throws<ArgumentOutOfRangeException>(() => Format.Fixed(double.PositiveInfinity, 2));
        Assert.Throws<ArgumentOutOfRangeException>(() => Format.Interval(1, double.NaN, 2));
        Assert.Throws<ArgumentException>(() => Format.Interval(1, 2, 1));
    }

    [Fact]
    public void Terminal_Ascii_EverySignHasAForm()
    {
        TerminalText ascii = TerminalText.For(Encoding.ASCII);
        Assert.Equal("7.1 +/- 0.2 J/cm2, -3 %, 2x10^-5, 12 345 h, >= 5, 60 degC, 3 um, cafe", ascii.Of("7.1 ± 0.2 J/cm², −3 %, 2×10⁻⁵, 12\u202F345\u00A0h, ≥ 5, 60 °C, 3 µm, café"));
        Assert.Equal("10^2 m2 m-2", ascii.Of("10² m² m⁻²"));
        Assert.Equal("? ?", ascii.Of("中 \U0001F600"));
    }

    [Theory]
    [InlineData("utf-8", true)]
    [InlineData("utf-16", true)]
    [InlineData("us-ascii", false)]
    [InlineData("iso-8859-1", false)]
    public void Terminal_Encoding_DecidesForm(string name, bool unicode) =>
        Assert.Equal(unicode, TerminalText.For(Encoding.GetEncoding(name)).IsUnicode);

    [Fact]
    public void Terminal_Unicode_PlainSpacesAndNoEscapeSequences()
    {
        TerminalText text = TerminalText.For(Encoding.UTF8);
        Assert.Equal("12 345 µm²", text.Of("12\u202F345\u00A0µm²"));
        Assert.Equal("a[31mb\nc", text.Of("a\u001b[31mb\r\nc"));
        Assert.Equal("abc", text.Of("a\u202Eb\u2066c"));
    }

    [Fact]
    public void OneLine_ControlCharactersAndDirectionOverrides_Gone()
    {
        Assert.Equal("a b c d", PlainText.OneLine("a\nb\u0000c\u2028d"));
        Assert.Equal("abc", PlainText.OneLine("a\u202Eb\u2066c"));
        Assert.Equal("x \U0001F600", PlainText.OneLine("x\uD800\U0001F600"));
    }
}
