using System.Diagnostics;
using System.Text.Json.Nodes;

namespace CureSim.Cli.Tests;

/// <summary>One self-check of the built program with all checks, looked at by several tests.</summary>
public sealed class SelfCheckRun : IDisposable
{
    private readonly Tool tool = new();

    public SelfCheckRun()
    {
        var clock = Stopwatch.StartNew();
        var result = tool.Run("self-check", "--threads", "2");
        (ExitCode, Output, Error, Elapsed) = (result.ExitCode, result.Output, result.Error, clock.Elapsed);
        string[] folders = Directory.GetDirectories(tool.At("output", "self-check"));
        Folder = Assert.Single(folders);
        Summary = JsonNode.Parse(File.ReadAllText(Path.Combine(Folder, "summary.json")))!.AsObject();
    }

    public int ExitCode { get; }

    public string Output { get; }

    public string Error { get; }

    public TimeSpan Elapsed { get; }

    /// <summary>Folder of the record.</summary>
    public string Folder { get; }

    /// <summary>summary.json of the record.</summary>
    public JsonObject Summary { get; }

    /// <summary>Every check of the record.</summary>
    public IEnumerable<JsonObject> Checks => Summary["list"]!.AsArray().Select(c => c!.AsObject());

    public void Dispose() => tool.Dispose();
}

/// <summary>Tests that look at the same run.</summary>
[CollectionDefinition(Name)]
public sealed class SelfCheckCollection : ICollectionFixture<SelfCheckRun>
{
    public const string Name = "self-check";
}
