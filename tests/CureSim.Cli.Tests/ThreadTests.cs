using System.Text.Json.Nodes;

namespace CureSim.Cli.Tests;

/// <summary>The number of threads changes no byte of a result, its record apart.</summary>
public sealed class ThreadTests
{
    [Theory]
    [InlineData("quick.yaml", "300", "run.worlds=1")]
    [InlineData("hub-bond-lamp.yaml", "70", "run.worlds=2")]
    public void Run_OneTwoSevenThreads_SameBytes(string file, string lifetimes, string worlds)
    {
        using var tool = new Tool();
        foreach (string threads in new[] { "1", "2", "7" })
        {
            tool.Run(
                "run", $"scenarios/{file}", "--lifetimes", lifetimes, "--set", worlds, "--set", "production.horizon=20 weeks", "--threads", threads, "--out", "by-" + threads, "--quiet").Exits(0);
            Assert.Equal(int.Parse(threads), (int)JsonNode.Parse(File.ReadAllText(tool.At("by-" + threads, "record.json")))!["threads"]!);
        }

        Same.Folders(tool.At("by-1"), tool.At("by-2"), "record.json");
        Same.Folders(tool.At("by-1"), tool.At("by-7"), "record.json");
        Assert.True(Directory.GetFiles(tool.At("by-1", "plots"), "*.png").Length >= 6);
    }
}
