using System.Text;

namespace CureSim.Reports.Text;

/// <summary>Text that came from a user's file, made safe to draw or to write as XML.</summary>
public static class PlainText
{
    /// <summary>A text with a capital letter at its beginning.</summary>
    public static string Capital(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        return text.Length == 0 ? text : char.ToUpperInvariant(text[0]) + text[1..];
    }

    /// <summary>One line: control characters, line and paragraph separators and lone surrogates become spaces; direction overrides, which
    /// could make a label read otherwise than it is, are dropped.</summary>
    public static string OneLine(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        var result = new StringBuilder(text.Length);
        for (int i = 0; i < text.Length; i++)
        {
            char c = text[i];
            if (char.IsHighSurrogate(c) && i + 1 < text.Length && char.IsLowSurrogate(text[i + 1]))
            {
                result.Append(c).Append(text[++i]);
            }
            else if (char.IsSurrogate(c) || char.IsControl(c) || c is '\u2028' or '\u2029' or '\uFFFE' or '\uFFFF')
            {
                result.Append(' ');
            }
            else if (c is not ((>= '\u202A' and <= '\u202E') or (>= '\u2066' and <= '\u2069')))
            {
                result.Append(c);
            }
        }

        return result.ToString();
    }
}
