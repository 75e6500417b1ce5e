using System.Globalization;

namespace CureSim.Cli.Tests;

/// <summary>A table of results read back.</summary>
internal sealed class CsvFile
{
    private readonly string[] headers;
    private readonly string[][] rows;

    public CsvFile(string path)
    {
        string[] lines = File.ReadAllText(path).TrimStart('\uFEFF').TrimEnd('\n').Split('\n');
        headers = lines[0].Split(',');
        rows = [.. lines.Skip(1).Select(l => Fields(l))];
        Assert.All(rows, r => Assert.Equal(headers.Length, r.Length));
    }

    /// <summary>Number of rows.</summary>
    public int Count => rows.Length;

    /// <summary>A field as text.</summary>
    public string Text(int row, string header) => rows[row][Array.IndexOf(headers, header)];

    /// <summary>A field as a number.</summary>
    public double Number(int row, string header) => double.Parse(Text(row, header), CultureInfo.InvariantCulture);

    /// <summary>Rows in which a column holds a text.</summary>
    public IEnumerable<int> Where(string header, string text) => Enumerable.Range(0, rows.Length).Where(r => Text(r, header) == text);

    /// <summary>Every row of a text, its header first; lines that start with # are comments.</summary>
    public static IEnumerable<string[]> Rows(string text) =>
        text.TrimStart('\uFEFF').TrimEnd('\n').Split('\n').Where(l => l.Length > 0 && l[0] != '#').Select(Fields);

    // IETF RFC 4180 without line breaks inside fields, which no table of ours has.
    private static string[] Fields(string line)
    {
        var fields = new List<string>();
        var field = new System.Text.StringBuilder();
        bool quoted = false;
        for (int i = 0; i < line.Length; i++)
        {
            if (line[i] == '"')
            {
                if (quoted && i + 1 < line.Length && line[i + 1] == '"')
                {
                    field.Append(line[i++]);
                }
                else
                {
                    quoted = !quoted;
                }
            }
            else if (line[i] == ',' && !quoted)
            {
                fields.Add(field.ToString());
                field.Clear();
            }
            else
            {
                field.Append(line[i]);
            }
        }

        fields.Add(field.ToString());
        return [.. fields];
    }
}
