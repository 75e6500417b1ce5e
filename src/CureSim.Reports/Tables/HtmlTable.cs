using System.Text;
using System.Text.Encodings.Web;
using System.Text.Unicode;

namespace CureSim.Reports.Tables;

/// <summary>A table as an HTML element, every text escaped.</summary>
public static class HtmlTable
{
    private static readonly HtmlEncoder Escape = HtmlEncoder.Create(UnicodeRanges.All);

    /// <summary>The element, its cells of class <c>n</c> (number) or <c>t</c> (text).</summary>
    /// <param name="table">The table.</param>
    /// <param name="caption">Said above the table; none unless given.</param>
    public static string Of(Table table, string? caption = null)
    {
        ArgumentNullException.ThrowIfNull(table);
        var html = new StringBuilder("<table>\n");
        if (caption is not null)
        {
            html.Append("<caption>").Append(Escape.Encode(Text.PlainText.OneLine(caption))).Append("</caption>\n");
        }

        html.Append("<thead><tr>");
        foreach (Column column in table.Columns)
        {
            html.Append($"<th scope=\"col\" class=\"{Class(column)}\">").Append(Escape.Encode(Text.PlainText.OneLine(column.Heading))).Append("</th>");
        }

        html.Append("</tr></thead>\n<tbody>\n");
        foreach (var row in table.Rows)
        {
            html.Append("<tr>");
            for (int i = 0; i < row.Length; i++)
            {
                html.Append($"<td class=\"{Class(table.Columns[i])}\">").Append(Escape.Encode(table.Columns[i].Show(row[i]))).Append("</td>");
            }

            html.Append("</tr>\n");
        }

        return html.Append("</tbody>\n</table>\n").ToString();
    }

    private static string Class(Column column) => column.Kind == ColumnKind.Text ? "t" : "n";
}
