using System.Text.Json.Nodes;

namespace CureSim.Cli.Tests;

/// <summary>The interval study from the command line.</summary>
public sealed class IntervalTests
{
    private const string Scenario = "scenarios/check-interval.yaml";
    private static readonly string[] Short = ["--lifetimes", "64", "--set", "production.horizon=1 quarter", "--candidates", "1 day, 1 week, 1 month"];

    [Fact]
    public void Interval_OneTwoSevenThreads_SameBytes()
    {
        using var tool = new Tool();
        foreach (string threads in new[] { "1", "2", "7" })
        {
            tool.Run(["interval", Scenario, .. Short, "--threads", threads, "--out", "by-" + threads, "--quiet"]).Exits(0);
        }

        Same.Folders(tool.At("by-1"), tool.At("by-2"), "record.json");
        Same.Folders(tool.At("by-1"), tool.At("by-7"), "record.json");
        Assert.True(File.Exists(tool.At("by-1", "plots", "reliability_by_interval.png")));
        Assert.True(File.Exists(tool.At("by-1", "tables", "interval_by_adjust_limit.csv")));
    }

    [Fact]
    public void Interval_Answer_RecommendsAndTellsWhatItCosts()
    {
        using var tool = new Tool();
        var result = tool.Run(["interval", Scenario, .. Short, "--no-plots"]).Exits(0);
        foreach (string label in new[] { "cheapest", "what binds", "unseen", "in tolerance", "EUR/yr" })
        {
            Assert.Contains(label, result.Output, StringComparison.Ordinal);
        }

        string[] rows = File.ReadAllLines(tool.At("output", "check-interval", "interval", "tables", "intervals.csv"));
        Assert.Equal(4, rows.Length);
        Assert.StartsWith("1 day,16,", rows[1], StringComparison.Ordinal);
        Assert.False(Directory.Exists(tool.At("output", "check-interval", "interval", "plots")));
    }

    [Fact]
    public void Interval_Json_CostPartsSumToTheTotal()
    {
        using var tool = new Tool();
        var result = tool.Run(["interval", Scenario, .. Short, "--no-plots", "--only-candidates", "--json"]).Exits(0);
        var candidates = JsonNode.Parse(result.Output)!["candidates"]!.AsArray();
        Assert.Equal(3, candidates.Count);
        foreach (var candidate in candidates)
        {
            var costs = candidate!["figures"]!.AsObject().Where(f => f.Key.StartsWith("cost_", StringComparison.Ordinal)).ToDictionary(f => f.Key, f => (double)f.Value!["value"]!);
            double total = costs["cost_per_year"];

            // Ten significant digits are written of each of the parts.
            Assert.Equal(total, costs.Where(c => c.Key != "cost_per_year").Sum(c => c.Value), 1e-8 * total);
            Assert.True(costs.Count > 5);
        }
    }

    [Fact]
    public void Interval_SameTimingAlone_GivesTheSameRow()
    {
        // Common random numbers: a candidate does not depend on which others are compared with it.
        using var tool = new Tool();
        tool.Run(["interval", Scenario, .. Short, "--no-plots", "--only-candidates", "--quiet", "--out", "three"]).Exits(0);
        tool.Run(["interval", Scenario, .. Short[..^1], "1 week", "--no-plots", "--only-candidates", "--quiet", "--out", "one"]).Exits(0);
        string of(string folder) => File.ReadAllLines(tool.At(folder, "tables", "intervals.csv")).Single(l => l.StartsWith("1 week,", StringComparison.Ordinal));
        Assert.Equal(of("three"), of("one"));
    }

    [Fact]
    public void Interval_Ladder_HoldsWhatFitsTheHorizon()
    {
        using var tool = new Tool();
        var result = tool.Run("interval", "scenarios/quick.yaml", "--lifetimes", "8", "--set", "production.horizon=1 month", "--no-plots", "--only-candidates", "--json").Exits(0);
        string[] names = [.. JsonNode.Parse(result.Output)!["candidates"]!.AsArray().Select(c => (string)c!["name"]!)];
        Assert.Equal(["1 shift", "1 day", "1 week", "2 weeks", "1 month"], names);
    }

    [Theory]
    [InlineData("99.9 %", 1)]
    [InlineData("1 %", 0)]
    public void Interval_Require_TellsByTheExitCode(string target, int code)
    {
        // A quarter without a check finds most cells out of tolerance in three years: no candidate reaches 99.9 %.
        using var tool = new Tool();
        tool.Run(
            "interval", Scenario, "--lifetimes", "64", "--candidates", "1 quarter", "--set", $"interval_study.reliability_target={target}", "--set", "interval_study.nonconforming_limit=none",
            "--only-candidates", "--no-plots", "--require", "--quiet").Exits(code);
    }

    [Fact]
    public void Reading_Today_TellsVerdictCausesAndWhatToDo()
    {
        using var tool = new Tool();
        var result = tool.Run("interval", Scenario, "--reading", "3.31 W/cm2", "--lifetimes", "64").Exits(0);
        Assert.Contains("adjust and record", result.Output, StringComparison.Ordinal);
        Assert.Contains("likely causes", result.Output, StringComparison.Ordinal);
        Assert.False(Directory.Exists(tool.At("output")));
        var document = JsonNode.Parse(tool.Run("interval", Scenario, "--reading", "3.31 W/cm2", "--lifetimes", "64", "--json").Exits(0).Output)!;

        // Shares of all causes are those of one weight: they sum to 1 up to the ten digits that are written.
        Assert.Equal(1.0, document["causes"]!.AsArray().Sum(c => (double)c!["chance"]!["value"]!), 1e-8);
    }

    [Theory]
    [InlineData("a whole number of steps of 8 h", "--candidates", "13 h, 1 week")]
    [InlineData("no candidate", "--candidates", "")]
    [InlineData("longer than the horizon", "--candidates", "5 yr")]
    [InlineData("costs.currency", "--set", "costs={ check: 40 }")]
    [InlineData("accepted: an irradiance above 0", "--reading", "3.31 V")]
    [InlineData("--site goes with --reading", "--site", "1")]
    [InlineData("has no checks", "--set", "checks=", "--set", "interval_study=", "--set", "loop.alarm=false")]
    public void Interval_BadInput_SaysWhat(string expected, params string[] arguments)
    {
        using var tool = new Tool();
        var result = tool.Run(["interval", Scenario, .. arguments]).Exits(2);
        Assert.Contains(expected, result.Error, StringComparison.Ordinal);
        Assert.False(Directory.Exists(tool.At("output")));
    }

    [Fact]
    public void Interval_SeveralProblems_AreToldAtOnce()
    {
        using var tool = new Tool();
        var result = tool.Run("interval", Scenario, "--candidates", "13 h, 9 yr", "--set", "costs={ check: -1 }").Exits(2);
        Assert.Contains("13 h", result.Error, StringComparison.Ordinal);
        Assert.Contains("9 yr", result.Error, StringComparison.Ordinal);
        Assert.Contains("costs.currency", result.Error, StringComparison.Ordinal);
        Assert.Contains("costs.check", result.Error, StringComparison.Ordinal);
    }
}
