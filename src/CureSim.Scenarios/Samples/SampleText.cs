using System.Text;

namespace CureSim.Scenarios;

/// <summary>Text from a file of measured values, made fit for a message of one line.</summary>
internal static class SampleText
{
    private const int Longest = 40;

    /// <summary>At most forty letters on one line.</summary>
    public static string Shown(string text) => OneLine(text.Length > Longest ? text[..Longest] + "…" : text);

    /// <summary>Control characters and what would change the direction of reading become spaces.</summary>
    public static string OneLine(string text)
    {
        var line = new StringBuilder(text.Length);
        foreach (char c in text)
        {
            bool strange = char.IsControl(c) || c is '\u2028' or '\u2029' or (>= '\u202A' and <= '\u202E') or (>= '\u2066' and <= '\u2069');
            line.Append(strange ? ' ' : c);
        }

        return line.ToString();
    }
}
