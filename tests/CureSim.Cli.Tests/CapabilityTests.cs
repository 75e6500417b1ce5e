using System.Text.Json.Nodes;

namespace CureSim.Cli.Tests;

/// <summary>A user's own sample, from the command line to the files.</summary>
public sealed class CapabilityTests
{
    private static readonly string[] Shipped = ["capability", "scenarios/samples/hub-bond-dose.csv", "--lower", "5 J/cm2", "--upper", "11 J/cm2", "--group", "setup"];

    [Fact]
    public void Capability_ShippedSample_AnswersAndLeavesTheFiles()
    {
        using var tool = new Tool();
        var result = tool.Run([.. Shipped, "--target", "7 J/cm2", "--uncertainty", "4 %"]).Exits(0);
        Assert.Empty(result.Error);
        Assert.StartsWith("hub-bond-dose.csv, column \"dose [J/cm2]\": 60 values", result.Output, StringComparison.Ordinal);

        // Figures of the whole path against R (tests/data/reference/capability-sample.csv); the table carries ten digits.
        var table = new CsvFile(tool.At("output", "hub-bond-dose", "capability", "tables", "figures.csv"));
        double Figure(string id, string column) => table.Number(table.Where("figure", id).Single(), column);
        Assert.Equal(1.42357337528011, Figure("ppk", "value"), 1e-8);
        Assert.Equal(1.15322549653028, Figure("ppk", "lower"), 1e-8);
        Assert.Equal(1.67303695837613, Figure("cpk", "value"), 1e-8);
        Assert.Equal(7.18233333333333, Figure("mean_j_per_cm2", "value"), 1e-8);
        Assert.Equal(60, new CsvFile(tool.At("output", "hub-bond-dose", "capability", "tables", "values.csv")).Count);
        string[] files = [.. Directory.GetFiles(tool.At("output", "hub-bond-dose", "capability"), "*", SearchOption.AllDirectories).Select(f => Path.GetFileName(f)).Order(StringComparer.Ordinal)];
        Assert.Equal(
            [
                "acceptance.csv", "figures.csv", "groups.csv", "histogram.png", "histogram.svg", "normal_plot.png", "normal_plot.svg", "normality.csv", "parts.csv", "record.json", "report.html", "report.json", "screening.csv", "summary.json",
                "tolerance_intervals.csv", "values.csv", "values_in_order.png", "values_in_order.svg",
            ],
            files);
    }

    [Fact]
    public void Capability_Twice_LeavesTheSameBytes()
    {
        using var tool = new Tool();
        tool.Run([.. Shipped, "--out", "a", "--quiet"]).Exits(0);
        tool.Run([.. Shipped, "--out", "b", "--quiet"]).Exits(0);
        Same.Folders(tool.At("a"), tool.At("b"), "record.json");
    }

    [Theory]
    [InlineData("1.1", 0, "shown")]
    [InlineData("1.3", 1, "NOT SHOWN")] // 1.42 is seen, but its lower limit is 1.20
    [InlineData("1.6", 1, "NOT SHOWN")]
    public void Capability_Require_ExitCodeFollowsTheLowerLimit(string index, int code, string word)
    {
        using var tool = new Tool();
        string[] arguments = [.. Shipped, "--no-plots", "--capability", index];
        var plain = tool.Run(arguments).Exits(0);
        var required = tool.Run([.. arguments, "--require"]).Exits(code);
        Assert.Contains($"{index} with 95 % confidence: {word}", plain.Output, StringComparison.Ordinal);
        Assert.Equal(plain.Output, required.Output);
    }

    [Fact]
    public void Capability_Json_IsTheSummaryAlone()
    {
        using var tool = new Tool();
        var document = JsonNode.Parse(tool.Run([.. Shipped, "--json", "--no-plots"]).Exits(0).Output)!.AsObject();
        Assert.Equal("capability", (string)document["kind"]!);
        Assert.Equal(60, (int)document["values"]!);
        Assert.Null(document["figures"]!["ppk_percentile"]!["value"]);
        Assert.Contains("2731 are enough", (string)document["figures"]!["ppk_percentile"]!["valueReason"]!, StringComparison.Ordinal);
        document.Remove("folder");
        document.Remove("timing");
        document.Remove("answer");
        Assert.True(JsonNode.DeepEquals(JsonNode.Parse(File.ReadAllText(tool.At("output", "hub-bond-dose", "capability", "summary.json"))), document));
    }

    [Theory]
    [InlineData("--lower, --upper: neither was given", "capability", "s.csv")]
    [InlineData("--lower: found \"5\"; accepted: a dose with its unit", "capability", "s.csv", "--lower", "5")]
    [InlineData("which is not below --upper", "capability", "s.csv", "--lower", "9 J/cm2", "--upper", "8 J/cm2")]
    [InlineData("--target: found", "capability", "s.csv", "--lower", "5 J/cm2", "--target", "4 J/cm2")]
    [InlineData("--require: no index", "capability", "s.csv", "--lower", "5 J/cm2", "--require")]
    [InlineData("--k: it belongs to --uncertainty", "capability", "s.csv", "--lower", "5 J/cm2", "--k", "2")]
    [InlineData("did you mean \"95%\"?", "capability", "s.csv", "--lower", "5 J/cm2", "--confidence", "95")]
    [InlineData("--capability: found \"x\"", "capability", "s.csv", "--lower", "5 J/cm2", "--capability", "x")]
    [InlineData("--uncertainty: found", "capability", "s.csv", "--lower", "5 J/cm2", "--uncertainty", "4 mm")]
    [InlineData("no such file", "capability", "missing.csv", "--lower", "5 J/cm2")]
    [InlineData("--reliability: found \"2\"", "plan", "--reliability", "2")]
    [InlineData("--parts: found \"1\"", "plan", "--parts", "1")]
    public void BadInput_SaysWhatAndEndsWithTwo(string expected, params string[] arguments)
    {
        using var tool = new Tool();
        tool.Write("s.csv", "dose [J/cm2]\n6\n7\n8\n");
        var result = tool.Run(arguments).Exits(2);
        Assert.Empty(result.Output);
        Assert.Contains(expected, result.Error, StringComparison.Ordinal);
        Assert.DoesNotContain("   at ", result.Error, StringComparison.Ordinal);
        Assert.Single(result.Error.TrimEnd('\n').Split('\n'));
        Assert.False(Directory.Exists(tool.At("output")), "nothing is written for what cannot be used");
    }

    [Fact]
    public void BadFile_ProblemsOfFileAndOptions_AreToldTogetherWithoutControlCharacters()
    {
        using var tool = new Tool();
        tool.Write("bad.csv", "dose [J/cm2]\n7\n7,5\n\u001B[31mred\n-1\n");
        var result = tool.Run("capability", "bad.csv", "--lower", "5 J/cm2", "--confidence", "95").Exits(2);
        string[] lines = result.Error.TrimEnd('\n').Split('\n');
        Assert.Equal(4, lines.Length);
        Assert.StartsWith("bad.csv:3:1: ", lines[0], StringComparison.Ordinal);
        Assert.DoesNotContain('\u001B', result.Error);
    }

    [Fact]
    public void Plan_Text_HasTheNumbersAndTheirSources()
    {
        using var tool = new Tool();
        string text = tool.Run("plan", "--confidence", "95%", "--reliability", "0.99", "--parts", "60").Exits(0).Output;
        Assert.False(Directory.Exists(tool.At("output")), "without --out nothing is written");
        foreach (string expected in new[] { "299", "473", "628", "773", "ISO 16269-6", "Wilks 1941", "Clopper and Pearson 1934", "Howe 1969", "common practice, no source", "independent parts", "your parts" })
        {
            Assert.Contains(expected, text.ReplaceLineEndings(" "), StringComparison.Ordinal);
        }
    }

    [Fact]
    public void Plan_OutAndJson_HoldTheSameTables()
    {
        using var tool = new Tool();
        var document = JsonNode.Parse(tool.Run("plan", "--json", "--out", "plans").Exits(0).Output)!;
        Assert.Equal(59, (int)document["tables"]!["attribute_plans"]!["rows"]![0]!["parts"]!); // success run 95 %/95 %: row TOL-SR-0.95-0.95
        var table = new CsvFile(tool.At("plans", "tables", "attribute_plans.csv"));
        Assert.Equal([59.0, 93.0, 124.0, 153.0], Enumerable.Range(0, 4).Select(r => table.Number(r, "parts")));
        Assert.True(File.Exists(tool.At("plans", "record.json")));
        Assert.Equal("plan", (string)JsonNode.Parse(tool.Run("plan", "--json").Exits(0).Output)!["kind"]!);
    }
}
