using System.Text.Json.Nodes;

namespace CureSim.Cli.Tests;

/// <summary>The drivers study from the command line.</summary>
public sealed class DriversTests
{
    private const string Scenario = "scenarios/quick.yaml";
    private static readonly string[] Short = ["--lifetimes", "192", "--points", "256", "--set", "production.horizon=10 weeks"];

    [Fact]
    public void Drivers_OneAndThreeThreads_SameBytes()
    {
        using var tool = new Tool();
        foreach (string threads in new[] { "1", "3" })
        {
            tool.Run(["drivers", Scenario, .. Short, "--threads", threads, "--out", "by-" + threads, "--quiet"]).Exits(0);
        }

        Same.Folders(tool.At("by-1"), tool.At("by-3"), "record.json");
        foreach (string plot in new[] { "what_if", "dose_by_quantity", "dose_by_level" })
        {
            Assert.True(File.Exists(tool.At("by-1", "plots", plot + ".png")), plot);
        }
    }

    [Fact]
    public void Drivers_Answer_ComesFirstAndJsonAgrees()
    {
        using var tool = new Tool();
        var result = tool.Run(["drivers", Scenario, .. Short, "--no-plots"]).Exits(0);
        string[] lines = result.Output.Split('\n');
        int answer = Array.FindIndex(lines, l => l.StartsWith("answer", StringComparison.Ordinal));
        Assert.InRange(answer, 0, 3);
        Assert.Contains("Ppk", lines[answer] + lines[answer + 1], StringComparison.Ordinal);
        Assert.Contains("dose by level", result.Output, StringComparison.Ordinal);

        // About ten answers, in plain names: whoever reads a terminal of a hundred columns has it at once.
        string[] block = [.. lines.Skip(answer).TakeWhile(l => l.Trim().Length > 0)];
        Assert.InRange(block.Count(l => l[0] != ' '), 8, 14);
        Assert.InRange(block.Length, 8, 20);
        Assert.All(block, l => Assert.True(l.TrimEnd().Length <= 120, l));
        Assert.DoesNotMatch("(radiometer|fixture|guide|source|loop)[.]", result.Output);

        // Means that add up in every reading are one finding; the page says so.
        Assert.Contains(block, l => l.StartsWith("one mean", StringComparison.Ordinal));
        Assert.Contains("are one quantity by construction", File.ReadAllText(tool.At("output", "quick", "drivers", "report.html")), StringComparison.Ordinal);

        string[] table = File.ReadAllLines(tool.At("output", "quick", "drivers", "tables", "what_if.csv"));
        int change = Array.IndexOf(table[0].TrimStart('\uFEFF').Split(','), "ppk_change");
        double[] gains = [.. table.Skip(2).Select(l => l.Split(',')[change]).Where(c => c.Length > 0).Select(c => double.Parse(c, System.Globalization.CultureInfo.InvariantCulture))];
        Assert.True(gains.Length > 20);
        Assert.Equal(gains.OrderByDescending(g => g), gains);

        var summary = JsonNode.Parse(File.ReadAllText(tool.At("output", "quick", "drivers", "summary.json")))!;
        Assert.Equal(gains[0], (double)summary["whatIf"]!["rows"]![0]!["dose_ppk"]!["value"]!, 1e-9);
        foreach (var importance in summary["importance"]!.AsArray())
        {
            // Below one half, or without any R², no ranking may stand there; and the other way round.
            double? r2 = (double?)importance!["rSquared"]!["value"];
            Assert.Equal(r2 >= 0.5, importance["inputs"]!.AsArray().Count > 0);
        }
    }

    [Fact]
    public void Drivers_DrawsThatTell_GiveRankingAndEffectCurvesInTradeUnits()
    {
        using var tool = new Tool();
        tool.Run("drivers", "scenarios/fading-leds.yaml", "--lifetimes", "320", "--points", "256", "--quiet").Exits(0);
        string folder = tool.At("output", "fading-leds", "drivers");
        var time = JsonNode.Parse(File.ReadAllText(Path.Combine(folder, "summary.json")))!["importance"]![0]!;
        Assert.Equal("time_to_requalify", (string)time["answer"]!);
        Assert.True((double)time["rSquared"]!["value"]! >= 0.5);
        Assert.Equal("source.ageing.exponential.at", (string)time["inputs"]![0]!["input"]!);
        Assert.True(File.Exists(Path.Combine(folder, "plots", "effect_time_to_requalify_1.png")));
        Assert.True(File.Exists(Path.Combine(folder, "plots", "importance_time_to_requalify.svg")));

        // 70 % at 2500 h (median, gsd 1.5) is a time constant of 7009 h: 2 and 98 % of them are 3048 and 16 118 h, within the scatter of 80 lifetimes held out.
        // Who ages more slowly keeps the state longer, up to the horizon of 3840 h.
        string[][] rows = [.. File.ReadAllLines(Path.Combine(folder, "tables", "effects.csv")).Skip(1).Select(l => l.Split(',')).Where(c => c[0] == "time_to_requalify" && c[1] == "source.ageing.exponential.at")];
        Assert.All(rows, r => Assert.Equal(("h", "h"), (r[4], r[5])));
        double At(string[] row, int column) => double.Parse(row[column], System.Globalization.CultureInfo.InvariantCulture);
        Assert.InRange(At(rows[0], 3), 2300, 4000);
        Assert.InRange(At(rows[^1], 3), 12000, 21000);
        Assert.InRange(At(rows[0], 6), 1000, 2900);
        Assert.InRange(At(rows[^1], 6), 3500, 3900);
    }

    [Theory]
    [InlineData("--points", "1000", "a power of two")]
    [InlineData("--points", "128", "256")]
    [InlineData("--site", "3", "2")]
    public void Drivers_BadOption_IsToldWithWhatIsAccepted(string option, string value, string accepted)
    {
        using var tool = new Tool();
        var result = tool.Run("drivers", Scenario, option, value).Exits(2);
        Assert.Contains(accepted, result.Error, StringComparison.Ordinal);
        Assert.False(Directory.Exists(tool.At("output")));
    }
}
