using System.Globalization;
using System.Text;
using CsvHelper;
using CsvHelper.Configuration;

namespace CureSim.Reports.Tables;

/// <summary>A table as comma-separated values.</summary>
/// <remarks>
/// One header row, decimal point, comma, double quotes only where needed (IETF RFC 4180), except that lines end in LF alone on every system:
/// spreadsheets read it, and line tools see no stray carriage return. Numbers are the shortest text that reads back to the same double;
/// minus zero is written 0; a missing value is an empty field.
/// The bytes are UTF-8. A byte order mark is written only when the file holds a character beyond ASCII: without it spreadsheets take such a
/// file for the machine's old code page and garble it, while in a plain ASCII file it would only get in the way of other readers.
/// A text cell that a spreadsheet would run as a formula (first character = + - @ tab, carriage return, line feed, or the full-width forms
/// of the four signs) gets an apostrophe in front. Numbers never do, nor are they quoted.
/// </remarks>
public static class CsvText
{
    private const string FormulaStarts = "=+-@\t\r\n\uFF1D\uFF0B\uFF0D\uFF20";

    /// <summary>The table as bytes of a file.</summary>
    public static byte[] Bytes(Table table)
    {
        string text = Of(table);
        byte[] body = Encoding.UTF8.GetBytes(text);
        return Ascii.IsValid(text) ? body : [.. Encoding.UTF8.Preamble, .. body];
    }

    /// <summary>The table as text, without byte order mark.</summary>
    public static string Of(Table table)
    {
        ArgumentNullException.ThrowIfNull(table);
        using var text = new StringWriter(CultureInfo.InvariantCulture);
        var rules = new CsvConfiguration(CultureInfo.InvariantCulture)
        {
            NewLine = "\n",
            ShouldQuote = field => NeedsQuotes(field.Field),
        };
        using (var csv = new CsvWriter(text, rules))
        {
            foreach (Column column in table.Columns)
            {
                csv.WriteField(column.Header);
            }

            csv.NextRecord();
            foreach (var row in table.Rows)
            {
                foreach (Cell cell in row)
                {
                    csv.WriteField(Field(cell));
                }

                csv.NextRecord();
            }
        }

        return text.ToString();
    }

    /// <summary>A lone carriage return too: the library looks for its own line break only.</summary>
    private static bool NeedsQuotes(string? field) =>
        !string.IsNullOrEmpty(field) && (field.AsSpan().IndexOfAny(",\"\r\n") >= 0 || field[0] == ' ' || field[^1] == ' ');

    private static string Field(Cell cell) => cell.Raw switch
    {
        null => "",
        long whole => whole.ToString(CultureInfo.InvariantCulture),
        double number => (number == 0 ? 0 : number).ToString("R", CultureInfo.InvariantCulture),
        string { Length: > 0 } text when FormulaStarts.Contains(text[0]) => "'" + text,
        var text => (string)text,
    };
}
