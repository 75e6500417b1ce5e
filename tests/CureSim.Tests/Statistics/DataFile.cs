using System.Text;

namespace CureSim.Tests.Statistics;

/// <summary>Reads the data files of the tests from the repository (they are not copied beside the assembly).</summary>
internal static class DataFile
{
    public static string Path(params string[] parts)
    {
        for (DirectoryInfo? d = new(AppContext.BaseDirectory); d is not null; d = d.Parent)
        {
            if (File.Exists(System.IO.Path.Combine(d.FullName, "CureSim.sln")))
            {
                return System.IO.Path.Combine([d.FullName, "tests", "data", .. parts]);
            }
        }

        throw new InvalidOperationException("The tests must run from inside the repository.");
    }

    /// <summary>Rows of a comma-separated file with quotes; lines that start with # are comments.</summary>
    public static List<string[]> Csv(params string[] parts)
    {
        var rows = new List<string[]>();
        foreach (string line in File.ReadAllLines(Path(parts)))
        {
            if (line.Length > 0 && line[0] != '#')
            {
                rows.Add(Fields(line));
            }
        }

        return rows;
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
