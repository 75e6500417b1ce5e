using System.Diagnostics;

namespace CureSim.Cli.Tests;

/// <summary>Results are complete or not there, and nothing of the user's is replaced.</summary>
public sealed class WritingTests
{
    private static readonly string[] Small = ["run", "scenarios/quick.yaml", "--lifetimes", "1", "--no-plots", "--set", "production.horizon=4 weeks"];

    [Fact]
    public void Run_FolderWithAForeignFile_IsLeftAlone()
    {
        using var tool = new Tool();
        Directory.CreateDirectory(tool.At("mine"));
        tool.Write("mine/notes.txt", "mine");
        var result = tool.Run([.. Small, "--out", "mine"]).Exits(3);
        Assert.Contains("'notes.txt'", result.Error, StringComparison.Ordinal);
        Assert.Equal(["notes.txt"], Directory.GetFileSystemEntries(tool.At("mine")).Select(Path.GetFileName));
        Assert.Equal("mine", File.ReadAllText(tool.At("mine", "notes.txt")));
    }

    [Fact]
    public void Run_FormerResult_IsReplacedUnlessItWasChanged()
    {
        using var tool = new Tool();
        string record = tool.At("output", "quick", "run", "record.json"), summary = tool.At("output", "quick", "run", "summary.json");
        tool.Run(Small).Exits(0);
        string before = File.ReadAllText(summary);
        tool.Run([.. Small, "--seed", "5"]).Exits(0);
        Assert.NotEqual(before, File.ReadAllText(summary));

        File.AppendAllText(summary, " ");
        string kept = File.ReadAllText(record);
        Assert.Contains("was changed", tool.Run(Small).Exits(3).Error, StringComparison.Ordinal);
        Assert.Equal(kept, File.ReadAllText(record));
    }

    [Fact]
    public void Run_FolderThatCannotBeMade_EndsWithThree()
    {
        using var tool = new Tool();
        tool.Write("file", "");
        var result = tool.Run([.. Small, "--out", "file/inside"]).Exits(3);
        Assert.StartsWith("curesim: ", result.Error, StringComparison.Ordinal);
        Assert.Single(result.Error.TrimEnd('\n').Split('\n'));
    }

    [Fact]
    public void New_ExistingFile_IsNeverOverwritten()
    {
        using var tool = new Tool();
        tool.Run("new", "led", "--out", "cell.yaml").Exits(0);
        string written = File.ReadAllText(tool.At("cell.yaml"));
        Assert.Contains("exists", tool.Run("new", "arc-lamp", "--out", "cell.yaml").Exits(3).Error, StringComparison.Ordinal);
        Assert.Equal(written, File.ReadAllText(tool.At("cell.yaml")));
        Assert.Equal(written, tool.Run("new", "led").Exits(0).Output);
    }

    [Fact]
    public void Schema_OutFile_ReplacesOnlyASchema()
    {
        using var tool = new Tool();
        string schema = tool.Run("schema").Exits(0).Output;
        Assert.Equal("https://json-schema.org/draft/2020-12/schema", (string)System.Text.Json.Nodes.JsonNode.Parse(schema)!["$schema"]!);
        tool.Run("schema", "--out", "s.json").Exits(0);
        tool.Run("schema", "--out", "s.json").Exits(0);
        Assert.Equal(schema, File.ReadAllText(tool.At("s.json")));
        tool.Write("other.json", "{}");
        tool.Run("schema", "--out", "other.json").Exits(3);
        Assert.Equal("{}", File.ReadAllText(tool.At("other.json")));
    }

    [Fact]
    public void Run_Interrupted_LeavesNothingAndEndsWith130()
    {
        using var tool = new Tool();
        using var process = tool.Start("run", "scenarios/quick.yaml", "--lifetimes", "5000000");

        // The folder that it works in shows that it is under way; it is hidden and beside the place of the results.
        string beside = tool.At("output", "quick");
        Assert.True(SpinWait.SpinUntil(() => Directory.Exists(beside) && Directory.GetDirectories(beside).Length == 1, TimeSpan.FromMinutes(1)), "the run did not begin");
        Thread.Sleep(500);
        var clock = Stopwatch.StartNew();
        using (var kill = Process.Start("kill", ["-INT", process.Id.ToString(System.Globalization.CultureInfo.InvariantCulture)]))
        {
            kill.WaitForExit();
        }

        var result = Tool.Finish(process).Exits(130);

        // It stops within a second on an idle machine; ten leave room for one that is busy with other tests.
        Assert.True(clock.Elapsed < TimeSpan.FromSeconds(10), $"it took {clock.Elapsed} to stop");
        Assert.Contains("interrupted", result.Error, StringComparison.Ordinal);
        Assert.Empty(result.Output);
        Assert.False(Directory.Exists(tool.At("output")), "something was left behind");
    }

    [Fact]
    public void Output_ReaderThatLeaves_IsNoFault()
    {
        using var tool = new Tool();

        // More than a pipe holds (64 KiB on Linux), so that the tool writes into a pipe without a reader.
        var result = tool.Shell("set -o pipefail; $curesim show scenarios/hub-bond-lamp.yaml --json | head -n 1; for i in 1 2 3; do $curesim schema; done | head -n 1").Exits(0);
        Assert.Equal(["{", "{"], result.Output.TrimEnd('\n').Split('\n'));
        Assert.Empty(result.Error);
    }

    [Fact]
    public void Output_FullDevice_EndsWithThree()
    {
        using var tool = new Tool();
        var result = tool.Shell("$curesim schema > /dev/full").Exits(3);
        Assert.Contains("cannot write", result.Error, StringComparison.Ordinal);
    }
}
