using System.Text.Json.Nodes;

namespace CureSim.Cli.Tests;

/// <summary>The assurance of qualification plans from the command line.</summary>
public sealed class AssuranceTests
{
    private const string Scenario = "scenarios/qualification.yaml";

    [Fact]
    public void Assurance_OneTwoSevenThreads_SameBytes()
    {
        using var tool = new Tool();
        foreach (string threads in new[] { "1", "2", "7" })
        {
            tool.Run("plan", Scenario, "--lifetimes", "300", "--set", "production.horizon=30 weeks", "--threads", threads, "--out", "by-" + threads, "--quiet").Exits(0);
        }

        Same.Folders(tool.At("by-1"), tool.At("by-2"), "record.json");
        Same.Folders(tool.At("by-1"), tool.At("by-7"), "record.json");
        Assert.NotEmpty(Directory.GetFiles(tool.At("by-1", "plots"), "setups_*.png"));
    }

    [Fact]
    public void Assurance_Answer_TellsPassAndWrongPassBesideTheTextbook()
    {
        using var tool = new Tool();
        var result = tool.Run("plan", Scenario, "--lifetimes", "300", "--no-plots").Exits(0);
        Assert.Contains("59 parts, none nonconforming", result.Output, StringComparison.Ordinal);
        Assert.Contains("textbook at most 4.85", result.Output, StringComparison.Ordinal);
        Assert.Contains("once passed", result.Output, StringComparison.Ordinal);
        Assert.True(File.Exists(tool.At("output", "qualification", "plan", "tables", "assurance.csv")));
        Assert.True(File.Exists(tool.At("output", "qualification", "plan", "tables", "operating_characteristic.csv")));
        Assert.False(Directory.Exists(tool.At("output", "qualification", "plan", "plots")));
    }

    [Fact]
    public void Assurance_Json_SharesFitTogether()
    {
        using var tool = new Tool();
        var result = tool.Run("plan", Scenario, "--lifetimes", "500", "--no-plots", "--json").Exits(0);
        var document = JsonNode.Parse(result.Output)!;
        Assert.Equal("plan", (string?)document["kind"]);
        foreach (var plan in document["plans"]!.AsArray())
        {
            foreach (var row in plan!["rows"]!.AsArray())
            {
                var figures = row!["goodOverHorizon"]!;
                double Value(string name) => (double)figures[name]!["value"]!;

                // Bayes: both ways to the chance to pass while not good, up to the ten digits that are written.
                Assert.Equal(Value("passAndNotGood"), Value("notGood") * Value("passIfNotGood"), 1e-9);
                Assert.Equal(Value("passAndNotGood"), Value("pass") * Value("notGoodIfPass"), 1e-9);
                Assert.InRange((double)figures["pass"]!["lower95"]!, 0.0, Value("pass"));
            }
        }
    }

    [Fact]
    public void Assurance_SeveralWorlds_GivesABandOverThem()
    {
        using var tool = new Tool();
        var result = tool.Run(
            "plan", Scenario, "--lifetimes", "100", "--set", "run.worlds=8", "--set", "exposure.offset={ unknown: { normal: { sd: 60 ms } } }", "--no-plots", "--json").Exits(0);
        var pass = JsonNode.Parse(result.Output)!["plans"]![0]!["rows"]![0]!["goodOverHorizon"]!["pass"]!;
        Assert.True((double)pass["worlds"]!["p05"]! < (double)pass["worlds"]!["p95"]!);
    }

    [Theory]
    [InlineData("the horizon holds its occasions in 0 % of the lifetimes only", "qualification.1.setups=40")]
    [InlineData("61 parts over 70 occasions", "qualification.1={ parts: 61, setups: 70 }")]
    [InlineData("although the horizon holds", "qualification.1.lots=200", "qualification.1.parts=300")]
    [InlineData("more than 0 %, below 100 %", "qualification.1.reliability=100 %")]
    [InlineData("found neither", "window.dose={ lower: none, upper: none }")]
    [InlineData("no limit", "window={}")]
    public void Assurance_BadInput_SaysWhat(string expected, params string[] sets)
    {
        using var tool = new Tool();
        var result = tool.Run(["plan", Scenario, "--lifetimes", "20", .. sets.SelectMany(s => new[] { "--set", s })]).Exits(2);
        Assert.Contains(expected, result.Error, StringComparison.Ordinal);
        Assert.False(Directory.Exists(tool.At("output", "qualification", "plan")));
    }
}
