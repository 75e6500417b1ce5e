using System.Security.Cryptography;
using System.Text;
using CureSim.Core.Cell;

namespace CureSim.Scenarios;

/// <summary>Reads a scenario file into a validated cell, or into all of its problems. Never throws for anything that a file may hold.</summary>
public static class ScenarioReader
{
    /// <summary>Reads a file.</summary>
    /// <param name="path">The file; data files that it names must lie in its folder.</param>
    /// <param name="sets">Overrides "key=value": a dotted path and a YAML value; an empty value takes the key out.</param>
    public static ScenarioReading Read(string path, IReadOnlyList<string>? sets = null)
    {
        var findings = new Findings();
        return Read(ScenarioFile.Load(path, findings), sets ?? [], findings).Reading;
    }

    /// <summary>Reads a text, such as a resolved scenario.</summary>
    /// <param name="text">YAML.</param>
    /// <param name="name">Name to stand in front of problems.</param>
    /// <param name="sets">Overrides as for a file.</param>
    /// <param name="folder">Folder of its data files; null: it may name none.</param>
    public static ScenarioReading ReadText(string text, string name, IReadOnlyList<string>? sets = null, string? folder = null)
    {
        var findings = new Findings();
        return Read(ScenarioFile.Parse(text, name, folder, findings), sets ?? [], findings).Reading;
    }

    /// <summary>The reading and the keys of opened blocks that no reader asked for.</summary>
    internal static (ScenarioReading Reading, string[] UnreadKeys) Read(ScenarioFile? file, IReadOnlyList<string> sets, Findings findings)
    {
        if (file is null)
        {
            return (new ScenarioReading(null, findings.Problems, findings.Warnings, [], "", Hash("")), []);
        }

        MapNode root = Overrides.Apply(file.Root, sets, findings);
        var context = new ReadContext(findings, new DataFolder(file.Folder), DeclaredOrigins.From(root));
        (Scenario cell, BlockReader blocks) = new CellReader(context, file.Name).Read(root);
        CrossChecks.Run(cell, context);

        string resolved = YamlText.Block(ResolvedOrigins.Put(blocks.Resolved(), context.Inputs));
        if (Encoding.UTF8.GetByteCount(resolved) > ScenarioFile.SizeLimit)
        {
            findings.Problem(Place.Of(file.Name), "", "more than 1 MiB of text and data", "a scenario that is at most 1 MiB with its data");
        }

        var reading = new ScenarioReading(
            findings.Any ? null : cell, findings.Problems, findings.Warnings, [.. context.Inputs], resolved, Hash(resolved));
        return (reading, [.. context.Unread.SelectMany(u => u())]);
    }

    private static string Hash(string text) => Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(text)));
}
