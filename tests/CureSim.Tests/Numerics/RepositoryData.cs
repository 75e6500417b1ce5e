namespace CureSim.Tests.Numerics;

/// <summary>Reads the data files that stand in tests/data of the repository.</summary>
internal static class RepositoryData
{
    /// <summary>Full path of a file below tests/data.</summary>
    public static string PathOf(string relative)
    {
        var folder = new DirectoryInfo(AppContext.BaseDirectory);
        while (folder is not null && !File.Exists(Path.Combine(folder.FullName, "CureSim.sln")))
        {
            folder = folder.Parent;
        }

        Assert.NotNull(folder);
        return Path.Combine(folder.FullName, "tests", "data", relative);
    }

    /// <summary>The rows of a file of comma-separated values, header left out; quoted fields may hold commas.</summary>
    public static IEnumerable<string[]> Rows(string relative) => File.ReadLines(PathOf(relative)).Skip(1).Select(Split);

    private static string[] Split(string line)
    {
        if (!line.StartsWith('"'))
        {
            return line.Split(',');
        }

        Assert.EndsWith("\"", line, StringComparison.Ordinal);
        return line[1..^1].Split("\",\"");
    }
}
