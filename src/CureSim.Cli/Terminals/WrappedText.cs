using System.Text;

namespace CureSim.Cli;

/// <summary>Text broken at spaces.</summary>
internal static class WrappedText
{
    /// <summary>The text with line breaks, lines after the first indented. A no-break space holds its words together.</summary>
    /// <param name="words">The text; its first line begins in column <paramref name="indent"/>.</param>
    /// <param name="indent">Columns.</param>
    /// <param name="width">Columns that a line may reach; a longer word stands alone.</param>
    public static string Of(string words, int indent, int width)
    {
        var result = new StringBuilder();
        int column = indent;
        foreach (string word in words.Split(' '))
        {
            bool first = result.Length == 0;
            if (!first && column + 1 + word.Length > width)
            {
                result.Append('\n').Append(' ', indent);
                column = indent;
            }
            else if (!first)
            {
                result.Append(' ');
                column++;
            }

            result.Append(word);
            column += word.Length;
        }

        return result.ToString();
    }
}
