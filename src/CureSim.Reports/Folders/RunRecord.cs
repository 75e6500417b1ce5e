using System.Collections.Immutable;
using System.Globalization;
using System.Security.Cryptography;
using System.Text.Json;
using System.Text.Json.Nodes;
using CureSim.Reports.Json;

namespace CureSim.Reports.Folders;

/// <summary>One file of a result folder.</summary>
/// <param name="Sha256">SHA-256 (NIST FIPS 180-4), 64 lower-case hexadecimal digits.</param>
/// <param name="Bytes">Length, bytes.</param>
public sealed record FileEntry(string Sha256, long Bytes);

/// <summary>record.json: how a result came about, enough to make it again. It is the only file that holds time and threads.</summary>
public sealed record RunRecord
{
    /// <summary>Layout of record.json.</summary>
    public const int FormatVersion = 1;

    /// <summary>Version of the tool.</summary>
    public required string Version { get; init; }

    /// <summary>Source commit the tool was built from; null when not known.</summary>
    public string? Commit { get; init; }

    /// <summary>Command that was run, such as <c>run</c>.</summary>
    public required string Command { get; init; }

    /// <summary>Options of the command as they were given, each value after its option; those that only say where and how it prints are left out.
    /// --set, --seed and --lifetimes are in the resolved scenario already.</summary>
    public ImmutableArray<string> Options { get; init; } = [];

    /// <summary>The user's data files that it was made from, in the order of the command's arguments.</summary>
    public ImmutableArray<DataFile> Data { get; init; } = [];

    /// <summary>Name of the scenario.</summary>
    public required string Scenario { get; init; }

    /// <summary>SHA-256 of the resolved scenario text; null when the command takes no scenario.</summary>
    public required string? ScenarioSha256 { get; init; }

    /// <summary>Seed of the draws; 0 when the command takes no scenario.</summary>
    public required ulong Seed { get; init; }

    /// <summary>Lifetimes simulated, all worlds together; 0 when the command takes no scenario.</summary>
    public required long Lifetimes { get; init; }

    /// <summary>How lifetimes were drawn, "independent" or "stratified"; null where none were simulated.</summary>
    public string? Sampling { get; init; }

    /// <summary>What ended a run to a precision; null when the number of lifetimes was given.</summary>
    public string? Ended { get; init; }

    /// <summary>Threads used.</summary>
    public required int Threads { get; init; }

    /// <summary>.NET runtime, such as ".NET 10.0.1".</summary>
    public required string Runtime { get; init; }

    /// <summary>System, processor architecture, vector width; no user or host name.</summary>
    public required string Machine { get; init; }

    /// <summary>Start of the run, coordinated universal time.</summary>
    public required DateTimeOffset Started { get; init; }

    /// <summary>Duration, s.</summary>
    public required double DurationSeconds { get; init; }

    /// <summary>Simulated exposures in a second; null when the command simulates none.</summary>
    public double? ExposuresPerSecond { get; init; }

    /// <summary>Every other file of the folder by name; filled in when the folder is completed.</summary>
    public ImmutableSortedDictionary<string, FileEntry> Files { get; init; } =
        ImmutableSortedDictionary<string, FileEntry>.Empty.WithComparers(StringComparer.Ordinal);

    /// <summary>The record as the bytes of record.json, closed by a seal over all that stands before it.</summary>
    public byte[] ToBytes()
    {
        JsonObject tree = ToTree();
        tree.Text("seal", Seal(tree));
        return JsonText.Bytes(tree);
    }

    /// <summary>Reads a record; null when the bytes are not a record of this tool, or were changed since they were written.</summary>
    public static RunRecord? Read(byte[] bytes)
    {
        ArgumentNullException.ThrowIfNull(bytes);
        try
        {
            if (JsonNode.Parse(bytes) is not JsonObject tree || (int?)tree["curesim"] != FormatVersion)
            {
                return null;
            }

            RunRecord record = FromTree(tree);
            return record.ToBytes().AsSpan().SequenceEqual(bytes) ? record : null;
        }
        catch (Exception e) when (e is JsonException or InvalidOperationException or FormatException or KeyNotFoundException
            or InvalidCastException or ArgumentException or OverflowException)
        {
            return null;
        }
    }

    private JsonObject ToTree()
    {
        var tree = new JsonObject { ["curesim"] = FormatVersion };
        tree.Text("version", Version).Text("commit", Commit).Text("command", Command);
        if (!Options.IsDefaultOrEmpty)
        {
            JsonArray options = tree.Array("options");
            foreach (string option in Options)
            {
                options.Add(JsonValue.Create(option));
            }
        }

        if (!Data.IsDefaultOrEmpty)
        {
            JsonObject data = tree.Object("data");
            foreach (var file in Data)
            {
                data.Object(file.Name).Text("as", file.As).Text("sha256", file.Sha256).Count("bytes", file.Bytes).Add("copied", file.Copied);
            }
        }

        tree.Text("scenario", Scenario).Text("scenarioSha256", ScenarioSha256);
        tree.Add("seed", JsonValue.Create(Seed));
        tree.Count("lifetimes", Lifetimes).Count("threads", Threads).Text("runtime", Runtime).Text("machine", Machine)
            .Text("started", Started.ToUniversalTime().ToString("yyyy-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture))
            .Number("durationSeconds", DurationSeconds);
        if (ExposuresPerSecond is { } rate)
        {
            tree.Number("exposuresPerSecond", rate);
        }

        if (Ended is { } ended)
        {
            tree.Text("ended", ended);
        }

        if (Sampling is { } sampling)
        {
            tree.Text("sampling", sampling);
        }

        JsonObject files = tree.Object("files");
        foreach (var (name, entry) in Files)
        {
            files.Object(name).Text("sha256", entry.Sha256).Count("bytes", entry.Bytes);
        }

        return tree;
    }

    private static RunRecord FromTree(JsonObject tree) => new()
    {
        Version = (string)Member(tree, "version")!,
        Commit = (string?)tree["commit"],
        Command = (string)Member(tree, "command")!,
        Options = tree["options"] is JsonArray options ? [.. options.Select(o => (string?)o ?? throw new FormatException("An option is no text."))] : [],
        Data = tree["data"] is JsonObject data ? [.. data.Select(f => new DataFile(f.Key, (string)Member(f.Value, "as")!, (string)Member(f.Value, "sha256")!, (long)Member(f.Value, "bytes"), (bool)Member(f.Value, "copied")))] : [],
        Scenario = (string)Member(tree, "scenario")!,
        ScenarioSha256 = (string?)tree["scenarioSha256"],
        Seed = (ulong)Member(tree, "seed"),
        Lifetimes = (long)Member(tree, "lifetimes"),
        Ended = (string?)tree["ended"],
        Sampling = (string?)tree["sampling"],
        Threads = (int)Member(tree, "threads"),
        Runtime = (string)Member(tree, "runtime")!,
        Machine = (string)Member(tree, "machine")!,
        Started = DateTimeOffset.Parse((string)Member(tree, "started")!, CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal),
        DurationSeconds = (double)Member(tree, "durationSeconds"),
        ExposuresPerSecond = (double?)tree["exposuresPerSecond"],
        Files = ((JsonObject)Member(tree, "files")).ToImmutableSortedDictionary(
            f => f.Key, f => new FileEntry((string)Member(f.Value, "sha256")!, (long)Member(f.Value, "bytes")), StringComparer.Ordinal),
    };

    private static JsonNode Member(JsonNode? parent, string name) =>
        parent is JsonObject members && members[name] is { } value ? value : throw new KeyNotFoundException(name);

    private static string Seal(JsonObject tree) => Hash(JsonText.Bytes(tree));

    /// <summary>SHA-256 of bytes as lower-case hexadecimal digits.</summary>
    public static string Hash(ReadOnlySpan<byte> bytes) => Convert.ToHexStringLower(SHA256.HashData(bytes));
}
