using System.Text;

namespace CureSim.Reports.Text;

/// <summary>Text as one terminal can show it: unchanged letters on a Unicode terminal, plain ASCII elsewhere.</summary>
/// <remarks>Narrow and no-break spaces become ordinary ones on every terminal: many terminal fonts lack them and columns would shift.</remarks>
public sealed class TerminalText
{
    private static readonly Dictionary<char, string> Plain = new()
    {
        ['\u2212'] = "-", ['\u2013'] = "-", ['\u2014'] = "-", ['\u2011'] = "-", ['±'] = "+/-", ['×'] = "x", ['·'] = ".", ['÷'] = "/",
        ['µ'] = "u", ['\u03BC'] = "u", ['≤'] = "<=", ['≥'] = ">=", ['≈'] = "~", ['≠'] = "!=", ['…'] = "...",
        ['°'] = "deg ", ['½'] = "1/2", ['→'] = "->", ['←'] = "<-", ['↔'] = "<->", ['∞'] = "infinity", ['√'] = "sqrt", ['‰'] = "per mille",
        ['€'] = "EUR", ['£'] = "GBP", ['\u2018'] = "'", ['\u2019'] = "'", ['\u201C'] = "\"", ['\u201D'] = "\"", ['•'] = "*",
        ['α'] = "alpha", ['β'] = "beta", ['γ'] = "gamma", ['η'] = "eta", ['λ'] = "lambda", ['σ'] = "sigma", ['τ'] = "tau", ['Δ'] = "delta", ['ß'] = "ss",
        ['─'] = "-", ['│'] = "|", ['█'] = "#", ['✓'] = "ok",
    };

    private const string Raised = "⁰¹²³⁴⁵⁶⁷⁸⁹";

    private const string Accented = "ÀÁÂÃÄÅÇÈÉÊËÌÍÎÏÑÒÓÔÕÖØÙÚÛÜÝàáâãäåçèéêëìíîïñòóôõöøùúûüýÿąćčęěğıłńňőřśşšťůűźżž";
    private const string Unaccented = "AAAAAACEEEEIIIINOOOOOOUUUUYaaaaaaceeeeiiiinoooooouuuuyyacceegilnnorssstuuzzz";

    private TerminalText(bool unicode) => IsUnicode = unicode;

    /// <summary>True when letters beyond ASCII are passed through.</summary>
    public bool IsUnicode { get; }

    /// <summary>The text form for a terminal that writes in this encoding: Unicode only for UTF-8, UTF-16 and UTF-32.</summary>
    public static TerminalText For(Encoding encoding)
    {
        ArgumentNullException.ThrowIfNull(encoding);
        return new TerminalText(encoding.WebName.StartsWith("utf-", StringComparison.OrdinalIgnoreCase) && encoding.CodePage != 65000);
    }

    /// <summary>The text as this terminal can show it. Line breaks and tabs stay; other control characters are dropped, so that no
    /// escape sequence from a file's text reaches the terminal, and so are direction overrides, which could make a line read otherwise than it is.</summary>
    public string Of(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        var result = new StringBuilder(text.Length);
        bool inExponent = false;
        string source = IsUnicode ? text : text.Replace("°C", "degC", StringComparison.Ordinal);
        foreach (char c in source)
        {
            bool raised = c == '⁻' || Raised.Contains(c);
            if ((char.IsControl(c) && c is not ('\n' or '\t')) || c is (>= '\u202A' and <= '\u202E') or (>= '\u2066' and <= '\u2069'))
            {
                continue;
            }

            if (c is '\u00A0' or '\u202F' or '\u2009')
            {
                result.Append(' ');
            }
            else if (IsUnicode || char.IsAscii(c))
            {
                result.Append(c);
            }
            else if (raised)
            {
                // "10⁻⁵" becomes "10^-5", but "J/cm²" becomes "J/cm2", which scenario files read.
                bool power = !inExponent && result.Length > 0 && char.IsAsciiDigit(result[^1]);
                result.Append(power ? "^" : "").Append(c == '⁻' ? "-" : ((char)('0' + Raised.IndexOf(c))).ToString());
            }
            else if (Plain.TryGetValue(c, out string? plain))
            {
                result.Append(plain);
            }
            else
            {
                AppendWithoutAccents(result, c);
            }

            inExponent = raised;
        }

        return result.ToString();
    }

    private static void AppendWithoutAccents(StringBuilder result, char c)
    {
        if (char.IsLowSurrogate(c))
        {
            return;
        }

        if (char.IsHighSurrogate(c))
        {
            result.Append('?');
            return;
        }

        // String normalisation needs tables that this build leaves out (invariant globalisation), hence a short list of our own.
        int place = Accented.IndexOf(c);
        result.Append(place < 0 ? '?' : Unaccented[place]);
    }
}
