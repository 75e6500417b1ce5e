namespace CureSim.Tests.Scenarios;

/// <summary>
/// Files in the repository that are made from code. They are compared here; with the environment variable CURESIM_WRITE_GENERATED=1 they are written instead.
/// </summary>
internal static class GeneratedFiles
{
    public static void AssertUpToDate(string file, string expected)
    {
        string path = Path.Combine(ScenarioFiles.Root, file);
        if (Environment.GetEnvironmentVariable("CURESIM_WRITE_GENERATED") == "1")
        {
            File.WriteAllText(path, expected);
        }

        string actual = File.Exists(path) ? File.ReadAllText(path) : "";
        Assert.True(expected == actual, $"{file} is out of date: run these tests once with CURESIM_WRITE_GENERATED=1 and look at the change");
    }

    /// <summary>The text between two marker lines of a document that is otherwise written by hand.</summary>
    public static void AssertPartUpToDate(string file, string begin, string end, string expected)
    {
        string text = File.ReadAllText(Path.Combine(ScenarioFiles.Root, file));
        int from = text.IndexOf(begin, StringComparison.Ordinal);
        int to = text.IndexOf(end, StringComparison.Ordinal);
        Assert.True(from >= 0 && to > from, $"{file} has no part between \"{begin}\" and \"{end}\"");
        AssertUpToDate(file, text[..(from + begin.Length)] + "\n" + expected + text[to..]);
    }
}
