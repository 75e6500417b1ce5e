using System.Text.Json.Nodes;

namespace CureSim.Cli.Tests;

/// <summary>run --precision: what ends a run, where it is said, and that the rest of the result is that of a run of so many lifetimes.</summary>
public sealed class PrecisionTests
{
    private static readonly string[] Small = ["--set", "production.horizon=4 weeks", "--no-plots"];

    [Fact]
    public void Run_ThatMetItsPrecision_HasTheBytesOfARunOfSoManyLifetimes_OnAnyThreads()
    {
        using var tool = new Tool();
        tool.Run(["run", "scenarios/quick.yaml", "--precision", "ppk=0.014", .. Small, "--threads", "1", "--out", "one"]).Exits(0);
        tool.Run(["run", "scenarios/quick.yaml", "--precision", "ppk=0.014", .. Small, "--threads", "3", "--out", "three", "--quiet"]).Exits(0);
        Same.Folders(tool.At("one"), tool.At("three"), "record.json");

        JsonNode summary = Json(tool, "one", "summary.json"), record = Json(tool, "one", "record.json");
        long lifetimes = (long)summary["precision"]!["lifetimes"]!;
        Assert.True((bool)summary["precision"]!["met"]! && lifetimes > 4096, "one round would not show that rounds are added");
        Assert.True((double)summary["precision"]!["targets"]![0]!["reached"]! <= 0.014);
        Assert.Equal(("targets met", lifetimes), ((string?)record["ended"], (long)record["lifetimes"]!));

        tool.Run(["run", "scenarios/quick.yaml", "--lifetimes", $"{lifetimes}", .. Small, "--out", "given", "--quiet"]).Exits(0);
        Same.Folders(tool.At("one"), tool.At("given"), "record.json", "scenario.yaml", "summary.json", "report.json", "report.html", Path.Combine("tables", "inputs.csv"));
        JsonNode given = Json(tool, "given", "summary.json");
        foreach (JsonNode document in new[] { summary, given })
        {
            document.AsObject().Remove("precision");
            document.AsObject().Remove("scenarioSha256");
        }

        Assert.Equal(given.ToJsonString(), summary.ToJsonString());
    }

    [Fact]
    public void Run_EndedByItsCap_SaysWhatWasReachedAndWhatWouldBeEnough_AndWhatIsUnreachable()
    {
        using var tool = new Tool();
        string said = tool.Run(
        [
            "run", "scenarios/quick.yaml", "--precision", "ppk=0.001", "--precision", "median_time_to_requalify=50 h", "--precision", "at_most=4096", .. Small, "--out", "cap",
        ]).Exits(0).Output;
        string line = string.Join(' ', said.Split('\n').SkipWhile(l => !l.StartsWith("Precision", StringComparison.Ordinal)).Take(6).Select(l => l.Trim()));
        Assert.Contains("NOT met: ended by the cap at 4", line, StringComparison.Ordinal);
        Assert.Contains("would be enough", line, StringComparison.Ordinal);
        Assert.Contains("unreachable", line, StringComparison.Ordinal);

        JsonNode precision = Json(tool, "cap", "summary.json")["precision"]!;
        Assert.Equal("cap", (string?)precision["endedBy"]);
        Assert.Equal(["not met", "unreachable"], precision["targets"]!.AsArray().Select(t => (string?)t!["outcome"]));
        double reached = (double)precision["targets"]![0]!["reached"]!;
        Assert.True((double)precision["targets"]![0]!["lifetimesEnough"]! >= 4096 * Math.Pow(reached / 0.001, 2));
    }

    [Fact]
    public void Median_ThatDoesNotExist_EndsTheRunAtOnce()
    {
        using var tool = new Tool();
        tool.Run(["run", "scenarios/quick.yaml", "--precision", "median_time_to_requalify=50 h", .. Small, "--out", "none", "--quiet"]).Exits(0);
        JsonNode precision = Json(tool, "none", "summary.json")["precision"]!;
        Assert.Equal(("targets unreachable", 4096L), ((string?)precision["endedBy"], (long)precision["lifetimes"]!));
    }

    [Fact]
    public void WithUnknowns_WorldsAreAdded()
    {
        using var tool = new Tool();
        tool.Run(
        [
            "run", "scenarios/connector-unknowns.yaml", "--lifetimes", "256", "--set", "production.horizon=2 weeks", "--no-plots", "--precision", "mean_dose=50 %", "--out", "worlds", "--quiet",
        ]).Exits(0);
        JsonNode summary = Json(tool, "worlds", "summary.json");
        Assert.Equal((16, 256, 4096), ((int)summary["run"]!["worlds"]!, (int)summary["run"]!["lifetimesPerWorld"]!, (int)summary["precision"]!["lifetimes"]!));
    }

    [Theory]
    [InlineData("--precision beside --lifetimes", "--precision", "ppk=0.02", "--lifetimes", "500")]
    [InlineData("accepted: figure=half-width", "--precision", "ppk")]
    [InlineData("the unknown key \"cp\"", "--precision", "cp=0.02")]
    [InlineData("either lifetimes or precision", "--set", "run.precision={ ppk: 0.02 }")]
    public void Wrong_Asking_IsRefusedInOneLine(string says, params string[] options)
    {
        using var tool = new Tool();
        ToolResult result = tool.Run(["run", "scenarios/quick.yaml", .. options]).Exits(2);
        Assert.Contains(says, result.Error, StringComparison.Ordinal);
        Assert.Single(result.Error.Trim().Split('\n'));
    }

    [Fact]
    public void Lifetimes_TakeThePlaceOfTheScenariosPrecision()
    {
        using var tool = new Tool();
        tool.Run(["run", "scenarios/quick.yaml", "--set", "run={ precision: { ppk: 0.02 } }", "--lifetimes", "70", .. Small, "--out", "few", "--quiet"]).Exits(0);
        Assert.Equal(70, (int)Json(tool, "few", "summary.json")["run"]!["lifetimesPerWorld"]!);
    }

    private static JsonNode Json(Tool tool, string folder, string file) => JsonNode.Parse(File.ReadAllText(tool.At(folder, file)))!;
}
