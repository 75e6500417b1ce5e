using CureSim.Reports.Pages;

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

        // A page holds the lines of its own record; all else of it is compared.
        static byte[] Read(string folder, string name) => name == ReportFiles.Page
            ? System.Text.Encoding.UTF8.GetBytes(ReportPage.WithoutRecord(File.ReadAllText(Path.Combine(folder, name)))) : File.ReadAllBytes(Path.Combine(folder, name));
        Assert.All(names, name => Assert.True(Read(first, name).AsSpan().SequenceEqual(Read(second, name)), $"{name} differs"));
    }
}
