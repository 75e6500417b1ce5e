using System.Text.RegularExpressions;

namespace CureSim.Cli.Tests;

/// <summary>Every command of the guided tours runs as it stands there, with few lifetimes; every picture that they show is there.</summary>
public sealed partial class TourTests
{
    public static TheoryData<string> Tours => ["tour-engineer.md", "tour-manager.md", "tour-validation.md"];

    [Theory]
    [MemberData(nameof(Tours))]
    public void Tour_Commands_Run(string tour)
    {
        string text = File.ReadAllText(Path.Combine(Tool.Repository, "docs", tour)).ReplaceLineEndings("\n");
        string[] lines = [.. Blocks().Matches(text).SelectMany(m => m.Groups[1].Value.Split('\n')).Select(l => l.Trim()).Where(l => l.Length > 0)];
        Assert.NotEmpty(lines);
        using var tool = new Tool();
        foreach (string line in lines)
        {
            Assert.StartsWith("curesim ", line, StringComparison.Ordinal);
            bool simulates = CommandList.All.Single(c => c.Name == line.Split(' ')[1]).Options.Contains(Options.Lifetimes) && line.Contains(".yaml", StringComparison.Ordinal);
            string few = line == "curesim self-check" ? " --id CF-AIM --summary" : !simulates ? "" : Regex.IsMatch(line, "--reading|plan ") ? " --lifetimes 64" : line.Contains(" ownership ", StringComparison.Ordinal) ? " --lifetimes 2 --only-present" : line.Contains(" window ", StringComparison.Ordinal) ? " --lifetimes 4 --map-only" : " --lifetimes 4";
            tool.Shell("$curesim " + Regex.Replace(line["curesim ".Length..], " --lifetimes [0-9]+", "") + few).Exits(0);
        }

        Assert.All(Pictures().Matches(text), m => Assert.True(File.Exists(Path.Combine(Tool.Repository, "docs", m.Groups[1].Value)), m.Value));
    }

    [GeneratedRegex("```sh\n(.*?)```", RegexOptions.Singleline)]
    private static partial Regex Blocks();

    [GeneratedRegex(@"!\[[^\]]+\]\(([^)]+)\)")]
    private static partial Regex Pictures();
}
