using System.Text.Json.Nodes;

namespace CureSim.Cli.Tests;

/// <summary>--json prints one document and nothing else.</summary>
public sealed class JsonTests
{
    [Fact]
    public void Run_Json_IsTheSummaryWithFolderAndTiming()
    {
        using var tool = new Tool();
        var result = tool.Run("run", "scenarios/quick.yaml", "--lifetimes", "3", "--no-plots", "--json", "--threads", "2").Exits(0);
        var document = JsonNode.Parse(result.Output)!.AsObject();
        Assert.Equal("schemaVersion", document.First().Key);
        Assert.Equal(1, (int)document["schemaVersion"]!);
        Assert.Equal("run", (string)document["kind"]!);
        Assert.Equal(2, (int)document["timing"]!["threads"]!);
        Assert.True((double)document["timing"]!["exposuresPerSecond"]! > 0.0);

        string folder = (string)document["folder"]!;
        string summary = File.ReadAllText(Path.Combine(folder, "summary.json"));
        Assert.DoesNotContain("\"threads\"", summary, StringComparison.Ordinal);
        Assert.DoesNotContain("\"timing\"", summary, StringComparison.Ordinal);
        document.Remove("folder");
        document.Remove("timing");
        Assert.False(string.IsNullOrWhiteSpace((string?)document["answer"]!["decision"]));
        document.Remove("answer");
        Assert.True(JsonNode.DeepEquals(JsonNode.Parse(summary), document));
        Assert.Equal(20261ul, (ulong)document["run"]!["seed"]!);
    }

    [Fact]
    public void Run_LargestSeed_KeepsEveryDigit()
    {
        using var tool = new Tool();
        string seed = ulong.MaxValue.ToString(System.Globalization.CultureInfo.InvariantCulture);
        var result = tool.Run("run", "scenarios/quick.yaml", "--lifetimes", "1", "--no-plots", "--json", "--seed", seed, "--set", "production.horizon=4 weeks").Exits(0);
        Assert.Equal(ulong.MaxValue, (ulong)JsonNode.Parse(result.Output)!["run"]!["seed"]!);
    }

    [Theory]
    [InlineData("show", "show", "scenarios/hub-bond-led.yaml", "--json")]
    [InlineData("diff", "diff", "scenarios/hub-bond-lamp.yaml", "scenarios/hub-bond-led.yaml", "--json")]
    [InlineData("trace", "trace", "scenarios/quick.yaml", "--lifetime", "0", "--set", "production.horizon=4 weeks", "--json")]
    [InlineData("compare", "compare", "scenarios/quick.yaml", "scenarios/quick.yaml", "--lifetimes", "2", "--no-plots", "--set", "production.horizon=4 weeks", "--json")]
    public void Command_Json_IsOneDocument(string kind, params string[] arguments)
    {
        using var tool = new Tool();
        var document = JsonNode.Parse(tool.Run(arguments).Exits(0).Output)!;
        Assert.Equal(1, (int)document["schemaVersion"]!);
        Assert.Equal(kind, (string)document["kind"]!);
    }

    [Fact]
    public void Run_Quiet_SaysNothing()
    {
        using var tool = new Tool();
        var result = tool.Run("run", "scenarios/hub-bond-led.yaml", "--lifetimes", "1", "--set", "run.worlds=2", "--set", "production.horizon=4 weeks", "--no-plots", "--quiet").Exits(0);
        Assert.Empty(result.Output);
        Assert.Empty(result.Error);
        Assert.True(File.Exists(tool.At("output", "hub-bond-led", "run", "summary.json")));
    }
}
