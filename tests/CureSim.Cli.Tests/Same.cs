namespace CureSim.Cli.Tests;

/// <summary>Comparison of result folders byte by byte.</summary>
internal static class Same
{
    /// <summary>Fails unless both folders hold the same files with the same bytes; names are relative, with the separator of the system.</summary>
    public static void Folders(string first, string second, params string[] except)
    {
        string[] Names(string folder) =>
            [.. Directory.GetFiles(folder, "*", SearchOption.AllDirectories).Select(f => Path.GetRelativePath(folder, f)).Where(n => !except.Contains(n)).Order(StringComparer.Ordinal)];
        string[] names = Names(first);
        Assert.NotEmpty(names);
        Assert.Equal(names, Names(second));
        Assert.All(names, name => Assert.True(
            File.ReadAllBytes(Path.Combine(first, name)).AsSpan().SequenceEqual(File.ReadAllBytes(Path.Combine(second, name))), $"{name} differs"));
    }
}
