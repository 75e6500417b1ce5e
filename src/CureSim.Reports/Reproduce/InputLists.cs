using CureSim.Reports.Pages;

namespace CureSim.Reports.Reproduce;

/// <summary>
/// Tables that list inputs as they were written. Where the scenario named a data file, the resolved one holds its values, so the list made from it reads otherwise
/// there and nowhere else.
/// </summary>
internal static class InputLists
{
    private const string DataFile = "csv:";
    private const string DataFileKey = ".csv";

    /// <summary>Tables that list inputs, the path in the first column.</summary>
    public static bool Includes(string name) => name is "tables/inputs.csv" or "tables/inputs_that_differ.csv";

    /// <summary>True when two such tables differ in inputs that came from data files only.</summary>
    /// <param name="then">The recorded table.</param>
    /// <param name="now">The table made from the resolved scenario.</param>
    public static bool SameButForDataFiles(string then, string now)
    {
        if (Rows(then) is not { } a || Rows(now) is not { } b)
        {
            return false;
        }

        // "source.ageing.table.csv" makes way for all of "source.ageing.table.": points in place of file and columns.
        string[] blocks = [.. a.Keys.Where(p => p.EndsWith(DataFileKey, StringComparison.Ordinal)).Select(p => p[..^(DataFileKey.Length - 1)])];
        bool OfDataFile(string path) => blocks.Any(block => path.StartsWith(block, StringComparison.Ordinal))
            || (a.GetValueOrDefault(path)?.Contains(DataFile, StringComparison.Ordinal) == true && b.ContainsKey(path));
        string[] both = [.. a.Keys.Where(b.ContainsKey)];
        return a.Keys.Union(b.Keys).All(path => OfDataFile(path) || (a.TryGetValue(path, out string? x) && b.TryGetValue(path, out string? y) && x == y))
            && both.SequenceEqual(b.Keys.Where(a.ContainsKey));
    }

    /// <summary>True when two reports differ in nothing but their lists of inputs and what is counted from these; the lists themselves are judged as tables.</summary>
    public static bool SameReportsButForDataFiles(ReportContent? then, ReportContent? now)
    {
        static byte[] Rest(ReportContent c) => ReportFile.ToBytes(c with { Inputs = [], Basis = null, LargestAssumption = "", Checks = [] });
        bool fromFile = then is not null && then.Inputs.Any(i => i.Rows.Any(r => r.Value.Contains(DataFile, StringComparison.Ordinal) || r.Path.EndsWith(DataFileKey, StringComparison.Ordinal)));
        return fromFile && now is not null && Rest(then!).AsSpan().SequenceEqual(Rest(now));
    }

    // Null when a path stands there twice: then it is no list of inputs.
    private static Dictionary<string, string>? Rows(string text)
    {
        var rows = new Dictionary<string, string>(StringComparer.Ordinal);
        return text.Split('\n').All(line => rows.TryAdd(line.Split(',')[0], line)) ? rows : null;
    }
}
