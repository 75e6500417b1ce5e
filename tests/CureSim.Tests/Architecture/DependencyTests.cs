using System.Text.RegularExpressions;

namespace CureSim.Tests.Architecture;

/// <summary>Dependencies between the projects point one way, as docs/architecture.md draws them.</summary>
public class DependencyTests
{
    private static readonly Dictionary<string, string[]> Allowed = new()
    {
        ["CureSim.Core"] = [],
        ["CureSim.Engine"] = ["CureSim.Core"],
        ["CureSim.Scenarios"] = ["CureSim.Core"],
        ["CureSim.Studies"] = ["CureSim.Core", "CureSim.Engine"],
        ["CureSim.Checks"] = ["CureSim.Core", "CureSim.Engine", "CureSim.Studies"],
        ["CureSim.Reports"] = ["CureSim.Core", "CureSim.Engine", "CureSim.Studies", "CureSim.Scenarios"],
        ["CureSim.Cli"] = ["CureSim.Core", "CureSim.Engine", "CureSim.Scenarios", "CureSim.Studies", "CureSim.Reports", "CureSim.Checks"],
    };

    [Fact]
    public void Projects_ReferToEachOther_OneWayOnly()
    {
        string source = Path.Combine(Root(), "src");
        string[] files = Directory.GetFiles(source, "*.csproj", SearchOption.AllDirectories);
        Assert.Equal(Allowed.Keys.Order(), files.Select(f => Path.GetFileNameWithoutExtension(f)).Order());
        foreach (string file in files)
        {
            string name = Path.GetFileNameWithoutExtension(file);
            foreach (Match reference in Regex.Matches(File.ReadAllText(file), @"ProjectReference Include=""[^""]*?([\w.]+)\.csproj"""))
            {
                Assert.True(Allowed[name].Contains(reference.Groups[1].Value), $"{name} may not refer to {reference.Groups[1].Value}");
            }
        }
    }

    [Theory]
    [InlineData("CureSim.Engine")]
    [InlineData("CureSim.Core/Model")]
    [InlineData("CureSim.Core/Summaries")]
    public void Engine_HasNoHiddenInput(string folder)
    {
        // A clock, a generator with state, or a function of the runtime whose last bit differs between machines would break 'same bytes'.
        var banned = new Regex(@"\bDateTime\b|\bnew Random\(|Math\.(Exp|Log|Pow|Sin|Cos|Tan)\(|Vector(128|256|512)?\.(Exp|Log|Sin|Cos)\(");
        foreach (string file in Directory.GetFiles(Path.Combine(Root(), "src", folder), "*.cs", SearchOption.AllDirectories))
        {
            if (file.Contains("/obj/", StringComparison.Ordinal) || file.Contains("/bin/", StringComparison.Ordinal))
            {
                continue;
            }

            string text = File.ReadAllText(file).Replace("BlockMath.", "Block.", StringComparison.Ordinal);
            var found = banned.Match(text);
            Assert.False(found.Success, $"{Path.GetFileName(file)}: {found.Value}");
        }
    }

    private static string Root()
    {
        var folder = new DirectoryInfo(AppContext.BaseDirectory);
        while (folder is not null && !File.Exists(Path.Combine(folder.FullName, "CureSim.sln")))
        {
            folder = folder.Parent;
        }

        return folder?.FullName ?? throw new InvalidOperationException("CureSim.sln was not found above the tests");
    }
}
