using System.Globalization;
using System.Text.Json.Nodes;

namespace CureSim.Cli.Tests;

/// <summary>The process-window study from the command line.</summary>
public sealed class WindowTests
{
    private const string Scenario = "scenarios/process-window.yaml";
    private static readonly string[] Short = ["--lifetimes", "64", "--set", "run.worlds=1", "--set", "cure.exponent=0.6", "--set", "production.horizon=6 weeks", "--set", "window_study.nodes=5"];

    [Fact]
    public void Window_OneTwoSevenThreads_SameBytes()
    {
        using var tool = new Tool();
        foreach (string threads in new[] { "1", "2", "7" })
        {
            tool.Run(["window", Scenario, .. Short, "--threads", threads, "--out", "by-" + threads, "--quiet"]).Exits(0);
        }

        Same.Folders(tool.At("by-1"), tool.At("by-2"), "record.json");
        Same.Folders(tool.At("by-1"), tool.At("by-7"), "record.json");
        foreach (string file in new[] { "plots/window_map.png", "tables/protocol.csv", "tables/window_edges.csv", "protocol.html" })
        {
            Assert.True(File.Exists(tool.At("by-1", file)), file);
        }
    }

    [Fact]
    public void Window_Answer_TellsRectangleSetPointAndPlan()
    {
        using var tool = new Tool();
        var result = tool.Run(["window", Scenario, .. Short, "--no-plots"]).Exits(0);
        foreach (string label in new[] { "window", "set-point", "set today", "edges", "against limits", "spreads", "challenges", "plans", "act on readings" })
        {
            Assert.Contains(label, result.Output, StringComparison.Ordinal);
        }

        // A set-point whose own reading calls for action must be told as such, and only that one; both stand in the tables.
        string[][] Cells(string table) => [.. File.ReadAllLines(tool.At("output", "process-window", "window", "tables", table)).Skip(1).Select(r => r.Split(','))];
        double Of(string cell) => double.Parse(cell, CultureInfo.InvariantCulture);
        double set = Of(Cells("recommended.csv").Single(r => r[0] == "set-point")[1]);
        string[] limits = Cells("action_limits.csv")[0];
        Assert.Equal(set < Of(limits[3]) || set > Of(limits[4]), result.Output.Contains("acted on", StringComparison.Ordinal));

        string page = File.ReadAllText(tool.At("output", "process-window", "window", "protocol.html"));
        foreach (string must in new[] { "How sure", "Largest assumption", "Sign-off" })
        {
            Assert.Contains(must, page, StringComparison.Ordinal);
        }

        Assert.Contains("21 CFR 820 (QMSR) / ISO 13485 7.5.6", page, StringComparison.Ordinal);
        Assert.DoesNotContain("<script", page, StringComparison.Ordinal);
    }

    [Fact]
    public void Window_SampleSizes_AreThePublishedOnes()
    {
        // Wilks 1941; binomial plans; ISO 16269-6 factors as recomputed in the check values (exact noncentral t; exact integral; Howe).
        using var tool = new Tool();
        tool.Run(["window", Scenario, .. Short, "--no-plots", "--quiet", "--risk", "high", "--out", "high"]).Exits(0);
        tool.Run(["window", Scenario, .. Short, "--no-plots", "--quiet", "--risk", "low", "--out", "low"]).Exits(0);
        string[] Parts(string folder) => [.. File.ReadAllLines(tool.At(folder, "tables", "attribute_plans.csv")).Skip(1).Select(r => r.Split(',')[1])];
        Assert.Equal(["299", "473", "628", "773"], Parts("high"));
        Assert.Equal(["29", "46", "61", "76"], Parts("low"));
        void Factor(string folder, string parts, double oneSided, double twoSided, double howe)
        {
            string[] table = File.ReadAllLines(tool.At(folder, "tables", "normal_factors.csv"));
            string[] heads = table[0].Split(',');
            string[] row = table.Select(r => r.Split(',')).Single(r => r[0] == parts);
            double At(string name) => double.Parse(row[Array.FindIndex(heads, h => h.Contains(name, StringComparison.Ordinal))], CultureInfo.InvariantCulture);

            // All printed digits of the check values: one more decimal than half of the last.
            Assert.Equal(oneSided, At("one_sided"), 6e-10);
            Assert.Equal(twoSided, At("two_sided"), 6e-8);
            Assert.Equal(howe, At("howe"), 6e-9);
        }

        Factor("high", "20", 3.2951569362, 3.62098617, 3.617115479);
        Factor("high", "30", 3.0639011262, 3.35457584, 3.350788769);
        Factor("low", "10", 2.3546401318, 2.85631085, 2.83819127);
        Factor("low", "50", 1.6455648561, 1.99900038, 1.996326156);
    }

    [Fact]
    public void Window_TwoOtherSettings_ByName()
    {
        using var tool = new Tool();
        tool.Run(["window", Scenario, .. Short, "--set", "window_study.nodes=5", "--map-only", "--no-plots", "--quiet", "--along", "fixture.distance.nominal=9..11 mm", "--up", "exposure.time=3..4 s", "--out", "two"]).Exits(0);
        string head = File.ReadLines(tool.At("two", "tables", "window_map.csv")).First();
        Assert.StartsWith("fixture_distance_nominal_mm,exposure_time_s,", head, StringComparison.Ordinal);
    }

    [Fact]
    public void Window_MapFarFromAnyWindow_DrawsAndSaysSo()
    {
        using var tool = new Tool();
        var result = tool.Run(["window", Scenario, .. Short, "--set", "window_study.irradiance_from=20 W/cm2", "--set", "window_study.irradiance_to=50 W/cm2"]).Exits(0);
        string output = string.Join(' ', result.Output.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries));
        foreach (string words in new[] { "empty: no setting of the map meets", "outside the map", "map another range" })
        {
            Assert.Contains(words, output, StringComparison.Ordinal);
        }

        Assert.True(File.Exists(tool.At("output", "process-window", "window", "plots", "margins_up.svg")));
    }

    [Fact]
    public void Window_BadAxes_OneMessageEach()
    {
        using var tool = new Tool();
        var result = tool.Run(["window", Scenario, "--along", "fixture.distance.nominal=11..9 mm", "--up", "exposure.time"]).Exits(2);
        Assert.Equal(2, result.Error.Split('\n', StringSplitOptions.RemoveEmptyEntries).Length);
        tool.Run(["window", Scenario, "--along", "fixture.distance.nominal=9..11 mm"]).Exits(2);
        tool.Run(["window"]).Exits(2);
        tool.Run(["window", Scenario, "--at-least", "18 N"]).Exits(2);
        tool.Run(["window", "--from-study", "scenarios/dose-ladder.csv"]).Exits(0);
        tool.Run(["window", "--from-study", "scenarios/dose-ladder.csv", "--at-least", "18 mm"]).Exits(2);
        Assert.False(Directory.Exists(tool.At("output", "process-window")));
    }

    [Fact]
    public void Ladder_Json_LimitsLieWithinTheTestedDoses()
    {
        using var tool = new Tool();
        var result = tool.Run(["window", "--from-study", "scenarios/dose-ladder.csv", "--at-least", "18 N", "--json"]).Exits(0);
        var limits = JsonNode.Parse(result.Output)!["limits"]!.AsArray();
        Assert.Equal(3, limits.Count);
        Assert.All(limits, l => Assert.InRange((double)l!["lower"]!, (double)l["lowestTested"]!, (double)l["highestTested"]!));
    }
}
