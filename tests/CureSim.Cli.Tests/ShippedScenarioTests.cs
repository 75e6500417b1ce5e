using System.Globalization;
using System.Security.Cryptography;
using System.Text.Json.Nodes;
using System.Xml.Linq;

namespace CureSim.Cli.Tests;

/// <summary>Every scenario of the repository runs and leaves a complete result.</summary>
public sealed class ShippedScenarioTests
{
    public static TheoryData<string> Files => [.. Directory.GetFiles(Path.Combine(Tool.Repository, "scenarios"), "*.yaml").Select(f => Path.GetFileName(f)!).Order()];

    [Theory]
    [MemberData(nameof(Files))]
    public void Run_ShippedScenario_LeavesAllThatTheRecordLists(string file)
    {
        using var tool = new Tool();
        bool worlds = File.ReadAllText(tool.At("scenarios", file)).Contains("worlds:", StringComparison.Ordinal);
        string[] few = ["--lifetimes", "2", .. worlds ? ["--set", "run.worlds=2"] : Array.Empty<string>()];
        var result = tool.Run(["run", $"scenarios/{file}", .. few]).Exits(0);
        string folder = tool.At("output", Path.GetFileNameWithoutExtension(file), "run");

        var files = JsonNode.Parse(File.ReadAllText(Path.Combine(folder, "record.json")))!["files"]!.AsObject();
        Assert.Equal(Directory.GetFiles(folder, "*", SearchOption.AllDirectories).Length - 1, files.Count);
        Assert.All(files, f => Assert.Equal((string)f.Value!["sha256"]!, Convert.ToHexStringLower(SHA256.HashData(File.ReadAllBytes(Path.Combine(folder, f.Key))))));
        foreach (string table in new[] { "key_figures", "capability", "by_site", "over_time", "requalify_survival", "requalify_causes", "level_shares",
            "state_index_spread", "light_budget", "inputs", "lifetimes", "histogram_dose" })
        {
            Assert.True(new CsvFile(Path.Combine(folder, "tables", table + ".csv")).Count > 0, table);
        }

        // Two lifetimes may pass without any event.
        Assert.True(File.Exists(Path.Combine(folder, "tables", "events_over_time.csv")));
        foreach (string plot in new[] { "dose_histogram", "dose_over_time", "state_index_over_time", "variance_by_level", "light_budget" })
        {
            Assert.Equal([0x89, 0x50, 0x4E, 0x47], File.ReadAllBytes(Path.Combine(folder, "plots", plot + ".png"))[..4]);
            Assert.Equal("svg", XDocument.Load(Path.Combine(folder, "plots", plot + ".svg")).Root!.Name.LocalName);
        }

        string[] labels = ["Dose", "Ppk", "Cpk, worst site", "Nonconforming bonds", "Nonconforming parts", "State index", "Time to requalify", "Never qualified", "Time out unseen", "ISO 22514-2 class"];
        Assert.All(labels, label => Assert.Contains(result.Output.Split('\n'), line => line.StartsWith(label, StringComparison.Ordinal)));
        Assert.DoesNotContain("\u001b", result.Output, StringComparison.Ordinal);
    }

    [Fact]
    public void Run_Tables_TellTheSame()
    {
        using var tool = new Tool();
        tool.Run("run", "scenarios/quick.yaml", "--lifetimes", "64", "--no-plots", "--set", "window.dose.lower=7 J/cm2").Exits(0);
        CsvFile Table(string name) => new(tool.At("output", "quick", "run", "tables", name + ".csv"));
        CsvFile lifetimes = Table("lifetimes"), figures = Table("key_figures"), histogram = Table("histogram_dose"), time = Table("over_time"), shares = Table("level_shares");
        double Sum(CsvFile table, string header) => Enumerable.Range(0, table.Count).Sum(r => table.Number(r, header));
        double Figure(string id) => figures.Number(figures.Where("figure", id).Single(), "value");

        // Counts are whole numbers: they agree exactly, whichever table they are added from. 4000 h are 500 shifts of 8 h; 4 parts a shift and site.
        double bonds = Sum(lifetimes, "bonds_sampled");
        Assert.Equal(64.0 * 500 * 4 * 2, bonds);
        Assert.Equal(bonds, Sum(histogram, "bonds"));
        Assert.Equal(bonds, Sum(time, "bonds"));

        // Ten digits are written, so a sum of rounded numbers agrees to about nine.
        double bad = Sum(lifetimes, "bonds_nonconforming");
        Assert.True(bad > 1000, "the lower limit was set so that many bonds are outside");
        Assert.Equal(1e6 * bad / bonds, Figure("bonds_nonconforming_counted_ppm"), 1e-8 * 1e6 * bad / bonds);
        double mean = Enumerable.Range(0, lifetimes.Count).Sum(r => lifetimes.Number(r, "dose_mean_j_per_cm2") * lifetimes.Number(r, "bonds_sampled")) / bonds;
        Assert.Equal(mean, Figure("dose_mean_j_per_cm2"), 1e-8 * mean);
        Assert.Equal(100.0, Enumerable.Range(0, shares.Count - 1).Sum(r => shares.Number(r, "share_of_variance_percent")), 1e-6);

        // Median of the histogram: half of the counts lie below the bin that holds X50.
        double median = Figure("dose_x50_j_per_cm2");
        double below = Enumerable.Range(0, histogram.Count).Where(r => histogram.Number(r, "to_j_per_cm2") <= median).Sum(r => histogram.Number(r, "bonds"));
        double upTo = Enumerable.Range(0, histogram.Count).Where(r => histogram.Number(r, "from_j_per_cm2") <= median).Sum(r => histogram.Number(r, "bonds"));
        Assert.InRange(bonds / 2.0, below, upTo);
        Assert.Equal("yes", time.Text(time.Count - 1, "check_at_end"));
        Assert.Equal(4000.0.ToString(CultureInfo.InvariantCulture), time.Text(time.Count - 1, "to_hours"));
    }

    [Theory]
    [InlineData("hub-bond-led", false)]
    [InlineData("connector-unknowns", true)]
    public void Run_ResolvedScenario_GivesTheSameResult(string stem, bool hasDataFile)
    {
        using var tool = new Tool();
        string[] plain = ["--no-plots", "--quiet"];
        tool.Run(["run", $"scenarios/{stem}.yaml", "--lifetimes", "2", "--set", "run.worlds=2", "--set", "production.horizon=10 weeks", .. plain]).Exits(0);
        string first = tool.At("output", stem, "run");
        tool.Run(["run", Path.Combine(first, "scenario.yaml"), "--out", "again", .. plain]).Exits(0);

        // A resolved scenario holds the values of a data file instead of its name, which the list of inputs shows.
        string[] differ = ["record.json", .. hasDataFile ? [Path.Combine("tables", "inputs.csv"), "report.json", "report.html"] : Array.Empty<string>()];
        Same.Folders(first, tool.At("again"), differ);
    }
}
