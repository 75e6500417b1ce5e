using System.Runtime.CompilerServices;
using System.Text;

namespace CureSim.StatisticalTests.Coverage;

/// <summary>Tables of docs/statistics.md that tests make: written between two marks when the environment variable CURESIM_WRITE_GENERATED is 1.</summary>
internal static class GeneratedTable
{
    private static readonly Lock Gate = new();

    /// <summary>Writes a table, if asked to.</summary>
    /// <param name="name">Its name in the marks.</param>
    /// <param name="header">Heads of its columns.</param>
    /// <param name="rows">Its rows.</param>
    public static void Write(string name, string[] header, IEnumerable<string[]> rows)
    {
        if (Environment.GetEnvironmentVariable("CURESIM_WRITE_GENERATED") != "1")
        {
            return;
        }

        var table = new StringBuilder();
        table.Append("| ").AppendJoin(" | ", header).Append(" |\n|").Append(string.Concat(Enumerable.Repeat("---|", header.Length))).Append('\n');
        foreach (string[] row in rows)
        {
            table.Append("| ").AppendJoin(" | ", row).Append(" |\n");
        }

        string path = Path.GetFullPath(Path.Combine(Path.GetDirectoryName(Here())!, "..", "..", "..", "docs", "statistics.md"));
        string begin = $"<!-- {name}: begin -->\n", end = $"<!-- {name}: end -->";
        lock (Gate)
        {
            string text = File.ReadAllText(path);
            int from = text.IndexOf(begin, StringComparison.Ordinal), to = text.IndexOf(end, StringComparison.Ordinal);
            if (from < 0 || to < from)
            {
                throw new InvalidOperationException($"{path} has no part between \"{begin.Trim()}\" and \"{end}\"");
            }

            File.WriteAllText(path, text[..(from + begin.Length)] + table + text[to..]);
        }
    }

    private static string Here([CallerFilePath] string path = "") => path;
}
