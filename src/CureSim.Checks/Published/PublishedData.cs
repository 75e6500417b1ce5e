using System.Text;

namespace CureSim.Checks.Published;

/// <summary>The tables that the assembly carries: check values, and the data sets that some of them belong to (Data/SOURCES.md).</summary>
internal static class PublishedData
{
    private const string Folder = "CureSim.Checks.Published.Data.";

    /// <summary>Check values by id, in the order of the file.</summary>
    public static IReadOnlyDictionary<string, PublishedRow> Rows { get; } = Csv("check-values.csv").Skip(1)
        .ToDictionary(f => f[0], f => new PublishedRow(f[0], f[1], f[2], f[3], f[4], f[5], f[6]));

    /// <summary>Rows of a comma-separated table with quotes; lines that start with # are comments.</summary>
    public static IEnumerable<string[]> Csv(string file)
    {
        using var stream = typeof(PublishedData).Assembly.GetManifestResourceStream(Folder + file)
            ?? throw new InvalidOperationException($"The assembly carries no table {file}.");
        using var reader = new StreamReader(stream, Encoding.UTF8);
        while (reader.ReadLine() is { } line)
        {
            if (line.Length > 0 && line[0] != '#')
            {
                yield return Fields(line);
            }
        }
    }

    /// <summary>Predictor and response of a NIST StRD file: its lines after "Data:", response first.</summary>
    public static (double X, double Y)[] ReferenceRegression(string file)
    {
        using var stream = typeof(PublishedData).Assembly.GetManifestResourceStream(Folder + file)
            ?? throw new InvalidOperationException($"The assembly carries no file {file}.");
        using var reader = new StreamReader(stream, Encoding.UTF8);
        string[] lines = [.. reader.ReadToEnd().Split('\n')];

        // The header says "Data: 1 Response (y)" too; the columns are named by the last line that begins so.
        int header = Array.FindLastIndex(lines, l => l.StartsWith("Data:", StringComparison.Ordinal));
        return [.. lines.Skip(header + 1).Select(l => l.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries)).Where(f => f.Length == 2)
            .Select(f => (PublishedRow.Parse(f[1]), PublishedRow.Parse(f[0])))];
    }

    private static string[] Fields(string line)
    {
        var fields = new List<string>();
        var field = new StringBuilder();
        bool quoted = false;
        for (int i = 0; i < line.Length; i++)
        {
            char c = line[i];
            if (c == '"')
            {
                if (quoted && i + 1 < line.Length && line[i + 1] == '"')
                {
                    field.Append('"');
                    i++;
                }
                else
                {
                    quoted = !quoted;
                }
            }
            else if (c == ',' && !quoted)
            {
                fields.Add(field.ToString());
                field.Clear();
            }
            else
            {
                field.Append(c);
            }
        }

        fields.Add(field.ToString());
        return [.. fields];
    }
}
