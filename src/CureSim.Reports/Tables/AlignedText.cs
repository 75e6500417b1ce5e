using System.Text;

namespace CureSim.Reports.Tables;

/// <summary>A table as aligned plain text for a terminal: numbers to the right, text to the left, two spaces between columns.</summary>
public static class AlignedText
{
    /// <summary>The table, each line ended by LF, no trailing spaces. Pass it through <see cref="Text.TerminalText"/> cell by cell with
    /// <paramref name="show"/>, so that columns still line up where a sign becomes several letters.</summary>
    /// <param name="table">The table.</param>
    /// <param name="show">Changes each text before it is measured; unchanged unless given.</param>
    public static string Of(Table table, Func<string, string>? show = null)
    {
        ArgumentNullException.ThrowIfNull(table);
        show ??= text => text;
        var lines = new List<string[]> { table.Columns.Select(c => show(c.Heading)).ToArray() };
        lines.AddRange(table.Rows.Select(row => row.Select((cell, i) => show(table.Columns[i].Show(cell))).ToArray()));
        int[] widths = table.Columns.Select((_, i) => lines.Max(line => Width(line[i]))).ToArray();

        var result = new StringBuilder();
        foreach (string[] line in lines)
        {
            var text = new StringBuilder();
            for (int i = 0; i < line.Length; i++)
            {
                string gap = new(' ', widths[i] - Width(line[i]));
                bool toTheRight = table.Columns[i].Kind != ColumnKind.Text;
                text.Append(i == 0 ? "" : "  ").Append(toTheRight ? gap + line[i] : line[i] + gap);
            }

            result.Append(text.ToString().TrimEnd()).Append('\n');
        }

        return result.ToString();
    }

    /// <summary>Letters as the reader counts them: an accent set apart or a surrogate pair is one.</summary>
    private static int Width(string text) => new System.Globalization.StringInfo(text).LengthInTextElements;
}
