using System.Text.Json.Nodes;

namespace CureSim.Reports.Json;

/// <summary>summary.json: the results of a run or study for machines. Its first member is <c>schemaVersion</c>, its second <c>kind</c>.</summary>
/// <remarks>It holds nothing that differs between two runs of the same scenario, seed and version: no time, no thread count, no path.</remarks>
public sealed class SummaryDocument
{
    /// <summary>Version of the layout of summary.json; raised when a member changes its meaning or goes.</summary>
    public const int SchemaVersion = 1;

    /// <summary>Starts a document.</summary>
    /// <param name="kind">What made it: the command, such as <c>run</c> or <c>interval</c>.</param>
    /// <param name="scenario">Name of the scenario.</param>
    public SummaryDocument(string kind, string scenario)
    {
        ArgumentException.ThrowIfNullOrWhiteSpace(kind);
        ArgumentNullException.ThrowIfNull(scenario);
        Root = new JsonObject { ["schemaVersion"] = SchemaVersion, ["kind"] = kind, ["scenario"] = scenario };
    }

    /// <summary>The tree; add members with <see cref="JsonMembers"/>.</summary>
    public JsonObject Root { get; }

    /// <summary>The document as text.</summary>
    public string ToText() => JsonText.Of(Root);

    /// <summary>The document as the bytes of a file.</summary>
    public byte[] ToBytes() => JsonText.Bytes(Root);
}
