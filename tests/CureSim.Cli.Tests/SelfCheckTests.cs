using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using CureSim.Reports.Folders;

namespace CureSim.Cli.Tests;

/// <summary>self-check on the machine that runs the tests.</summary>
[Collection(SelfCheckCollection.Name)]
public sealed class SelfCheckTests(SelfCheckRun run)
{
    [Fact]
    public void SelfCheck_All_PassAndAreAsManyAsPromised()
    {
        Assert.True(run.ExitCode == 0, run.Output + run.Error);
        Assert.True((bool)run.Summary["allPassed"]!);
        Assert.True((int)run.Summary["checks"]! >= 150, "fewer than 150 checks");
        Assert.True((int)run.Summary["throughEngine"]! >= 30, "fewer than 30 through the whole engine");

        // Three tables of sample sizes count as one.
        Assert.Equal(run.Checks.Count() - 2, (int)run.Summary["checks"]!);
        Assert.Equal(3, run.Checks.Count(c => (string?)c["countedWith"] == "sample sizes"));
    }

    [Fact]
    public void SelfCheck_TwoThreads_TakesUnderAMinute() =>

        // It takes about 18 s of computing, so ten on two idle cores; the bound is for a machine that is busy with other tests.
        Assert.True(run.Elapsed < TimeSpan.FromMinutes(3), $"{run.Elapsed}");

    [Fact]
    public void SelfCheck_Table_ListsEveryCheckWithinTheWidth()
    {
        string[] lines = run.Output.Split('\n');
        Assert.All(lines, line => Assert.True(line.Length <= 110, line));
        Assert.All(run.Checks, c => Assert.Contains(lines, l => l == $"pass {(string)c["id"]!}" || l.StartsWith($"pass {(string)c["id"]!} ", StringComparison.Ordinal)));
        Assert.Contains("source [provenance]       expected                  found                     tolerance", run.Output, StringComparison.Ordinal);
        Assert.Matches(@"All passed: \d+ checks of \d+ figures, \d+ of them through the whole engine \(sample sizes count as one check\)\.", run.Output.Replace('\n', ' '));
        Assert.Contains("JCGM 101:2008 ", run.Output, StringComparison.Ordinal);
    }

    [Fact]
    public void SelfCheck_Record_NamesToolMachineAndDate()
    {
        Assert.Matches(@"^\d{4}-\d\d-\d\dT\d{6}Z$", Path.GetFileName(run.Folder));
        var inspection = FolderInspection.Of(run.Folder);
        Assert.True(inspection.IsIntact);
        Assert.Equal("self-check", inspection.Record!.Command);
        Assert.Null(inspection.Record.ScenarioSha256);
        Assert.Equal(
            ["self-check.html", "self-check.txt", "summary.json", "tables/by_provenance.csv", "tables/by_source.csv", "tables/by_topic.csv", "tables/checks.csv"],
            inspection.Record.Files.Keys);

        string page = File.ReadAllText(Path.Combine(run.Folder, "self-check.html")), text = File.ReadAllText(Path.Combine(run.Folder, "self-check.txt"));
        string date = inspection.Record.Started.ToString("yyyy-MM-dd", System.Globalization.CultureInfo.InvariantCulture);
        Assert.All([inspection.Record.Version, inspection.Record.Runtime, date], fact =>
        {
            Assert.Contains(fact, page, StringComparison.Ordinal);
            Assert.Contains(fact, text, StringComparison.Ordinal);
        });
        Assert.Equal(run.Checks.Count() + 1, File.ReadLines(Path.Combine(run.Folder, "tables", "checks.csv")).Count());
    }

    [Fact]
    public void SelfCheck_Json_ThreadsChangeNothing()
    {
        using var tool = new Tool();
        string[] some = ["self-check", "--id", "CF-AIM", "--id", "cap-0", "--topic", "Conformity", "--json"];
        var one = JsonNode.Parse(tool.Run([.. some, "--threads", "1"]).Exits(0).Output)!.AsObject();
        var three = JsonNode.Parse(tool.Run([.. some, "--threads", "3"]).Exits(0).Output)!.AsObject();
        Assert.Equal("schemaVersion", one.First().Key);
        Assert.NotEqual((string)one["folder"]!, (string)three["folder"]!);
        foreach (var document in new[] { one, three })
        {
            document.Remove("folder");
            document.Remove("timing");
        }

        Assert.True(JsonNode.DeepEquals(one, three));
        string[] ids = [.. one["list"]!.AsArray().Select(c => (string)c!["id"]!)];
        Assert.All(ids, id => Assert.Matches("^(CF-AIM|CAP-0|CON-)", id));

        // The same checks in the same order as in the whole list.
        Assert.Equal(run.Checks.Select(c => (string)c["id"]!).Where(id => Regex.IsMatch(id, "^(CF-AIM|CAP-0|CON-)")), ids);
    }

    [Fact]
    public void SelfCheck_Quiet_SaysNothingAndReplacesNoRecord()
    {
        using var tool = new Tool();
        string[] small = ["self-check", "--id", "CAP-01", "--quiet", "--out", "mine"];
        var first = tool.Run(small).Exits(0);
        Assert.Empty(first.Output + first.Error);
        string before = File.ReadAllText(tool.At("mine", "record.json"));
        Assert.Contains("replaces nothing", tool.Run(small).Exits(3).Error, StringComparison.Ordinal);
        Assert.Equal(before, File.ReadAllText(tool.At("mine", "record.json")));
    }

    [Fact]
    public void SelfCheck_UnknownTopicOrName_IsRefusedWithWhatIsAccepted()
    {
        using var tool = new Tool();
        string error = tool.Run("self-check", "--topic", "colour", "--id", "ZZ").Exits(2).Error;
        Assert.Contains("--topic: found \"colour\"; accepted: closed form, ", error, StringComparison.Ordinal);
        Assert.Contains("--id: no check's name starts with \"ZZ\"", error, StringComparison.Ordinal);
        Assert.False(Directory.Exists(tool.At("output")));
    }
}
