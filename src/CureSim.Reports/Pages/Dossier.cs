using System.Collections.Immutable;
using System.Text.Json.Nodes;
using CureSim.Reports.Folders;
using CureSim.Reports.Json;

namespace CureSim.Reports.Pages;

/// <summary>Several reports joined, read from the folders that hold them. Nothing is computed again.</summary>
public sealed class Dossier
{
    /// <summary>Most studies of a dossier.</summary>
    public const int MostParts = 24;

    private Dossier(ImmutableArray<ReportPart> parts, string title)
    {
        Parts = parts;
        Title = title;
    }

    /// <summary>The reports, in the order in which they were given.</summary>
    public ImmutableArray<ReportPart> Parts { get; }

    /// <summary>Name.</summary>
    public string Title { get; }

    /// <summary>True when all are of scenarios of one name.</summary>
    public bool IsOfOneCell => ReportLayout.AreOfOneCell(Parts);

    /// <summary>Reads folders.</summary>
    /// <param name="folders">Folders of results.</param>
    /// <param name="title">Its name; that of the first scenario when null.</param>
    /// <param name="problems">One for each folder that cannot be used; empty when all can.</param>
    public static Dossier? Read(IReadOnlyList<string> folders, string? title, out ImmutableArray<string> problems)
    {
        ArgumentNullException.ThrowIfNull(folders);
        var parts = new List<ReportPart>();
        var found = new List<string>();
        if (folders.Count > MostParts)
        {
            found.Add($"found {folders.Count} folders; accepted: at most {MostParts}");
        }

        foreach (string folder in folders.Take(MostParts))
        {
            try
            {
                parts.Add(One(folder));
            }
            catch (ResultFolderException e)
            {
                found.Add(e.Message);
            }
        }

        problems = [.. found];
        return found.Count > 0 ? null : new([.. parts], title ?? parts[0].Record.Scenario);
    }

    /// <summary>The page.</summary>
    public string Page() => ReportPage.Of(Parts, Parts.Length > 1 ? Title : null);

    /// <summary>The PDF.</summary>
    public byte[] Pdf() => ReportPdf.Of(Parts, Parts.Length > 1 ? Title : null);

    /// <summary>The answers for machines.</summary>
    public SummaryDocument Document()
    {
        var document = new SummaryDocument("report", Title);
        document.Root.Add("oneScenario", JsonValue.Create(IsOfOneCell));
        var studies = document.Root.Array("studies");
        foreach (var (c, r, folder) in Parts.Select(p => (p.Content, p.Record, p.Folder)))
        {
            studies.Add(new JsonObject().Text("command", c.Command).Text("scenario", r.Scenario).Text("scenarioSha256", r.ScenarioSha256).Text("folder", folder)
                .Text("question", c.Question).Text("judgement", c.Judgement.ToString().ToLowerInvariant()).Text("decision", c.Decision).Text("answer", c.Answer)
                .Text("howSure", c.HowSure).Text("largestAssumption", c.LargestAssumption));
        }

        return document;
    }

    private static ReportPart One(string folder)
    {
        if (!Directory.Exists(folder))
        {
            throw new ResultFolderException($"{folder}: found no such folder; accepted: a folder of results with its record.json");
        }

        var inspection = FolderInspection.Of(folder);
        if (inspection.Record is not { } record)
        {
            throw new ResultFolderException($"{folder}: found no record.json of CureSim, or one that was changed after it was written");
        }

        if (!record.Files.ContainsKey(ReportFile.Name) || inspection.Missing.Contains(ReportFile.Name))
        {
            throw new ResultFolderException($"{folder}: found no {ReportFile.Name} in its record; accepted: results of a command that writes a report, made by this version (run it again)");
        }

        // A dossier is evidence: what was changed by hand is not joined to it.
        if (inspection.Changed.Contains(ReportFile.Name))
        {
            throw new ResultFolderException($"{folder}: its {ReportFile.Name} was changed since it was written (its hash is not that of the record)");
        }

        string path = Path.Combine(folder, ReportFile.Name);
        try
        {
            if (new FileInfo(path).Length is 0 or > ReportFile.MostBytes)
            {
                throw new ResultFolderException($"{folder}: its {ReportFile.Name} is empty, or larger than any report");
            }

            var content = ReportFile.Read(File.ReadAllBytes(path), out string? fault) ?? throw new ResultFolderException($"{folder}: its {ReportFile.Name} cannot be used: {fault}");
            string full = Path.TrimEndingDirectorySeparator(Path.GetFullPath(folder));
            return new(content, record, Path.GetFileName(Path.GetDirectoryName(full)) is { Length: > 0 } parent ? $"{parent}/{Path.GetFileName(full)}" : Path.GetFileName(full));
        }
        catch (Exception e) when (e is (IOException or UnauthorizedAccessException) and not ResultFolderException)
        {
            throw new ResultFolderException($"{folder}: cannot read its {ReportFile.Name}: {e.Message}", e);
        }
    }
}
