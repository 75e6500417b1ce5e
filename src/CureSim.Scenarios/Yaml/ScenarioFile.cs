using System.Text;

namespace CureSim.Scenarios;

/// <summary>A scenario as written: its node tree with places, and the folder that its data files lie in.</summary>
/// <param name="Name">File name as it was given; stands in front of every problem.</param>
/// <param name="Folder">Folder of the file; data files must lie inside it. Null when the text has no folder: then no data file can be read.</param>
/// <param name="Root">The whole file.</param>
internal sealed record ScenarioFile(string Name, string? Folder, MapNode Root)
{
    /// <summary>Largest scenario file that is read, bytes.</summary>
    public const int SizeLimit = 1 << 20;

    /// <summary>Reads a file; null when it cannot be read at all (a problem is noted).</summary>
    public static ScenarioFile? Load(string path, Findings findings)
    {
        var place = new Place(path, 1, 1);
        const string accepted = "a scenario file (YAML, UTF-8, at most 1 MiB)";
        string text;
        try
        {
            var info = new FileInfo(path);
            if (!info.Exists)
            {
                findings.Problem(Place.Of(path), "", Directory.Exists(path) ? "a folder" : "no such file", accepted);
                return null;
            }

            if (info.Length > SizeLimit)
            {
                findings.Problem(place, "", FormattableString.Invariant($"a file of {info.Length} bytes"), accepted);
                return null;
            }

            text = new UTF8Encoding(false, throwOnInvalidBytes: true).GetString(BoundedFile.Read(path, SizeLimit));
        }
        catch (DecoderFallbackException)
        {
            findings.Problem(place, "", "bytes that are not UTF-8", accepted);
            return null;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or ArgumentException or NotSupportedException)
        {
            findings.Problem(Place.Of(path), "", $"a file that cannot be read ({e.Message.TrimEnd('.')})", accepted);
            return null;
        }

        return Parse(text.TrimStart('\uFEFF'), path, Path.GetDirectoryName(Path.GetFullPath(path)), findings);
    }

    /// <summary>Reads text; null when it holds no map at its root (a problem is noted).</summary>
    public static ScenarioFile? Parse(string text, string name, string? folder, Findings findings)
    {
        if (Encoding.UTF8.GetByteCount(text) > SizeLimit)
        {
            findings.Problem(Place.Of(name), "", "more than 1 MiB of text", "a scenario of at most 1 MiB");
            return null;
        }

        var place = new Place(name, 1, 1);
        bool before = findings.Any;
        ScenarioNode? root = YamlTree.Read(text, place, Origin.Yours, findings);
        if (root is MapNode map)
        {
            return new ScenarioFile(name, folder, map);
        }

        if (root is not null || findings.Any == before)
        {
            findings.Problem(root?.Place ?? place, "", root?.Found ?? "an empty file", "a scenario: \"curesim: 1\" and its blocks");
        }

        return null;
    }
}
