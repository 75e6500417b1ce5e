using System.Text.RegularExpressions;

namespace CureSim.Cli.Tests;

/// <summary>Every command that README.md shows works as it stands there.</summary>
public sealed partial class ReadmeTests
{
    private const string Start = "dotnet run -c Release --project src/CureSim.Cli -- ";

    [Fact]
    public void Readme_Commands_Run()
    {
        string readme = File.ReadAllText(Path.Combine(Tool.Repository, "README.md")).ReplaceLineEndings("\n");
        string[] lines = [.. Blocks().Matches(readme).SelectMany(m => m.Groups[1].Value.Split('\n')).Select(l => l.Trim()).Where(l => l.Length > 0 && l[0] != '#')];
        string[] ours = [.. lines.Where(l => l.StartsWith(Start, StringComparison.Ordinal))];
        Assert.NotEmpty(ours);

        // The command that runs all tests is the one that runs this; nothing else may stand there without being tried.
        Assert.All(lines.Except(ours), line => Assert.Equal("dotnet test -c Release", line));
        using var tool = new Tool();
        foreach (string line in ours)
        {
            // The project that the line builds is the program beside this test; a shell splits the arguments as it would for a reader.
            tool.Shell("$curesim " + line[Start.Length..]).Exits(0);
        }
    }

    [GeneratedRegex("```sh\n(.*?)```", RegexOptions.Singleline)]
    private static partial Regex Blocks();
}
