using System.Text.Json.Nodes;

namespace CureSim.Cli.Tests;

/// <summary>The ownership study from the command line.</summary>
public sealed class OwnershipTests
{
    private const string Lamp = "scenarios/own-lamp.yaml", Led = "scenarios/own-led.yaml";
    private static readonly string[] Short = ["--lifetimes", "2", "--set", "run.worlds=8", "--set", "production.horizon=2 yr", "--set", "interval_study.intervals=[ 1 week, 1 month ]"];

    [Fact]
    public void Ownership_OneTwoSevenThreads_SameBytes()
    {
        using var tool = new Tool();
        foreach (string threads in new[] { "1", "2", "7" })
        {
            tool.Run(["ownership", Lamp, Led, .. Short, "--threads", threads, "--out", "by-" + threads, "--quiet"]).Exits(0);
        }

        Same.Folders(tool.At("by-1"), tool.At("by-2"), "record.json");
        Same.Folders(tool.At("by-1"), tool.At("by-7"), "record.json");
        foreach (string plot in new[] { "cost_bands", "difference", "chance_ahead", "breakdown", "what_would_turn_it" })
        {
            Assert.True(File.Exists(tool.At("by-1", "plots", plot + ".png")), plot);
        }
    }

    [Fact]
    public void Ownership_SwappedFiles_SameRowsInAnotherOrder()
    {
        using var tool = new Tool();
        tool.Run(["ownership", Lamp, Led, .. Short, "--out", "forth", "--quiet", "--no-plots"]).Exits(0);
        tool.Run(["ownership", Led, Lamp, .. Short, "--out", "back", "--quiet", "--no-plots"]).Exits(0);
        string[] tables = [.. Directory.GetFiles(tool.At("forth", "tables")).Select(f => Path.GetFileName(f)!)];
        Assert.Equal(9, tables.Length);
        foreach (string table in tables)
        {
            string[] forth = File.ReadAllLines(tool.At("forth", "tables", table)), back = File.ReadAllLines(tool.At("back", "tables", table));
            Assert.Equal(forth.Order(StringComparer.Ordinal), back.Order(StringComparer.Ordinal));
        }

        // The two directions of a pair are each other's negative, to the last digit written.
        var differences = new CsvFile(tool.At("forth", "tables", "differences_by_year.csv"));
        string Row(string option, string year, string header) => differences.Text(
            differences.Where("option", option).Single(r => differences.Text(r, "year") == year && differences.Text(r, "routine") == "present"), header);
        string there = Row("LED", "2", "difference"), here = Row("lamp", "2", "difference");
        Assert.Equal(there.TrimStart('-'), here.TrimStart('-'));
        Assert.NotEqual(there, here);
    }

    [Fact]
    public void Ownership_TheSameFileTwice_DiffersByNothing()
    {
        using var tool = new Tool();
        var result = tool.Run(["ownership", Led, Led, .. Short, "--only-present", "--no-plots"]).Exits(0);
        Assert.Contains("exactly the same in every simulated future", result.Output.ReplaceLineEndings(" "), StringComparison.Ordinal);
        var table = new CsvFile(tool.At("output", "own-led", "ownership-own-led", "tables", "differences_by_year.csv"));
        Assert.True(table.Count > 0);
        foreach (string header in new[] { "difference", "difference_lower95", "difference_upper95", "difference_p05", "difference_p95", "chance_ahead_percent" })
        {
            Assert.All(Enumerable.Range(0, table.Count), r => Assert.Equal("0", table.Text(r, header)));
        }
    }

    [Fact]
    public void Ownership_LongLabels_LeaveTheTextItsRoom()
    {
        using var tool = new Tool();
        string label = new('x', 40);
        var result = tool.Run(["ownership", Lamp, Led, .. Short, "--only-present", "--no-plots", "--set", "ownership.label=" + label]).Exits(0);
        string[] lines = result.Output.Split('\n');
        Assert.Contains(lines, l => l.Trim() == label);
        string chance = lines.Single(l => l.StartsWith("chance ", StringComparison.Ordinal));
        Assert.InRange(chance.Length - chance["chance".Length..].TrimStart().Length, 8, 26);
        // The line of files is never broken: a path is copied from it.
        Assert.All(lines.Where(l => !l.StartsWith("The rest is in", StringComparison.Ordinal)), l => Assert.True(l.Length <= 110, l));
    }

    [Fact]
    public void Ownership_Json_KindsSumToTheTotal()
    {
        using var tool = new Tool();
        var root = JsonNode.Parse(tool.Run(["ownership", Lamp, Led, .. Short, "--only-present", "--no-plots", "--json"]).Exits(0).Output)!;
        Assert.Equal(("ownership", "LED", "lamp", "EUR"), ((string)root["kind"]!, (string)root["challenger"]!, (string)root["reference"]!, (string)root["currency"]!));
        foreach (var option in root["present"]!["options"]!.AsArray())
        {
            double total = (double)option!["cost"]!["value"]!;

            // Ten significant digits are written of each kind.
            Assert.Equal(total, option["costByKind"]!.AsObject().Sum(k => (double)k.Value!["value"]!), 1e-8 * total);
        }

        Assert.Equal(2, root["present"]!["pairs"]!.AsArray().Count);
    }

    [Fact]
    public void Ownership_Answer_BeginsWithTheDecisionInAboutTenLines()
    {
        using var tool = new Tool();
        string output = tool.Run(["ownership", Lamp, Led, .. Short, "--no-plots"]).Exits(0).Output;
        string[] labelled = [.. output.Split('\n').TakeWhile(l => !l.StartsWith("The rest is in", StringComparison.Ordinal)).Where(l => l.Length > 0 && l[0] != ' ').Skip(1)];
        string first = labelled.First(l => l.Contains("EUR", StringComparison.Ordinal) && l.Contains("  ", StringComparison.Ordinal));
        Assert.Matches("^(keep lamp|change to LED|open|do not take) ", first);
        foreach (string label in new[] { "chance", "lamp", "LED", "change", "own routine", "would turn it", "brackets" })
        {
            Assert.Contains(output.Split('\n'), l => l.StartsWith(label + " ", StringComparison.Ordinal));
        }

        Assert.InRange(labelled.Length, 8, 10);
        Assert.True(output.Split('\n').Length <= 24, output);
    }

    [Fact]
    public void Ownership_BadInput_NamesBothFilesAndWritesNothing()
    {
        using var tool = new Tool();
        tool.Write("a.yaml", File.ReadAllText(tool.At("scenarios", "own-lamp.yaml")));
        tool.Write("b.yaml", File.ReadAllText(tool.At("scenarios", "own-led.yaml")).Replace("currency: EUR", "currency: USD", StringComparison.Ordinal).Replace("rate: 220 /h", "rate: 200 /h", StringComparison.Ordinal));
        string error = tool.Run("ownership", "a.yaml", "b.yaml").Exits(2).Error.ReplaceLineEndings("\n");
        Assert.Contains("a.yaml and b.yaml: found production.rate 220 /h and 200 /h", error, StringComparison.Ordinal);
        Assert.Contains("a.yaml and b.yaml: found costs in \"EUR\" and \"USD\"; accepted: one currency", error, StringComparison.Ordinal);
        Assert.Contains("scenarios/quick.yaml: found no costs", tool.Run("ownership", "a.yaml", "scenarios/quick.yaml").Exits(2).Error, StringComparison.Ordinal);
        Assert.Contains("SCENARIO", tool.Run("ownership", "a.yaml").Exits(2).Error, StringComparison.Ordinal);
        Assert.Contains("--sites: found \"4..1\"", tool.Run("ownership", "a.yaml", "scenarios/own-led.yaml", "--sites", "4..1").Exits(2).Error, StringComparison.Ordinal);
        Assert.Contains("a.yaml and scenarios/own-led.yaml: found 2 lifetimes in all; accepted: at least 10",
            tool.Run("ownership", "a.yaml", "scenarios/own-led.yaml", "--lifetimes", "1", "--set", "run.worlds=2").Exits(2).Error, StringComparison.Ordinal);
        Assert.False(Directory.Exists(tool.At("output")));
    }

    [Fact]
    public void Ownership_ThreeOptions_EveryPairBothWays()
    {
        using var tool = new Tool();
        tool.Write("third.yaml", File.ReadAllText(tool.At("scenarios", "own-led.yaml")).Replace("label: LED", "label: better LED", StringComparison.Ordinal).Replace("scale: 30000 h", "scale: 60000 h", StringComparison.Ordinal));
        tool.Run(["ownership", Lamp, Led, "third.yaml", .. Short, "--only-present", "--quiet"]).Exits(0);
        var table = new CsvFile(tool.At("output", "own-lamp", "ownership-own-led-third", "tables", "affordable_change.csv"));
        Assert.Equal(6, table.Count);
        Assert.Equal(6, Enumerable.Range(0, table.Count).Select(r => table.Text(r, "option") + "|" + table.Text(r, "against")).Distinct().Count());
    }

    [Fact]
    public void Ownership_Sites_ShowWhereTheLightIsSplitTooFar()
    {
        using var tool = new Tool();
        tool.Run("ownership", "scenarios/sites-lamp.yaml", "scenarios/sites-led.yaml", "--sites", "2,4,8", "--lifetimes", "24", "--set", "production.horizon=2 yr", "--quiet").Exits(0);
        string folder = tool.At("output", "sites-lamp", "ownership-sites-sites-led");
        var table = new CsvFile(Path.Combine(folder, "tables", "sites.csv"));
        double Of(string sites, string option, string header) => table.Number(table.Where("option", option).Single(r => table.Text(r, "sites") == sites), header);

        // Eight legs share one lamp: it is short long before its planned life. Heads are one a site and last.
        Assert.True(Of("8", "one lamp", "emitters") > 2 * Of("4", "one lamp", "emitters"));
        Assert.True(Of("8", "one lamp", "cost_total") > Of("8", "LED heads", "cost_total"));
        Assert.True(Of("2", "LED heads", "cost_total") < Of("4", "LED heads", "cost_total"));
        Assert.True(File.Exists(Path.Combine(folder, "plots", "cost_by_sites.png")));
    }

    [Theory]
    [InlineData()]
    [InlineData("--sites", "1,2")]
    public void Ownership_Reproduce_SameBytes(params string[] further)
    {
        using var tool = new Tool();
        string[] files = further.Length == 0 ? [Lamp, Led] : ["scenarios/sites-lamp.yaml", "scenarios/sites-led.yaml"];
        string[] few = further.Length == 0 ? Short : ["--lifetimes", "10", "--set", "production.horizon=1 yr"];
        tool.Run(["ownership", .. files, .. few, .. further, "--out", "then", "--quiet"]).Exits(0);
        tool.Run("reproduce", "then").Exits(0);
    }

    [Fact]
    public void Ownership_Require_ExitsWithOneWhereNothingIsDecided()
    {
        using var tool = new Tool();
        tool.Run(["ownership", Led, Led, .. Short, "--only-present", "--no-plots", "--quiet", "--require"]).Exits(1);
    }
}
