using System.Collections.Immutable;
using System.Globalization;
using System.Text.Json.Nodes;
using CureSim.Reports.Folders;
using CureSim.Reports.Json;
using CureSim.Reports.Runs;
using CureSim.Reports.Tables;

namespace CureSim.Reports.Reproduce;

/// <summary>A record that was run again: which files come out the same, which do not, and what explains it.</summary>
public sealed class ReproduceReport
{
    private readonly FolderInspection inspection;
    private readonly RunRecord now;

    /// <summary>Compares a folder with its results made again.</summary>
    /// <param name="folder">The folder that is looked at; only read.</param>
    /// <param name="inspection">What was found in it; has a record.</param>
    /// <param name="again">Folder of the results made now, with its record.</param>
    /// <param name="inputs">Files of the folder that the rerun was given.</param>
    /// <param name="dated">Files that are never the same twice.</param>
    /// <exception cref="ResultFolderException">A folder cannot be read.</exception>
    public ReproduceReport(string folder, FolderInspection inspection, string again, IReadOnlyCollection<string> inputs, IReadOnlyCollection<string> dated)
    {
        ArgumentNullException.ThrowIfNull(inspection);
        ArgumentNullException.ThrowIfNull(inputs);
        this.inspection = inspection;
        try
        {
            now = RunRecord.Read(File.ReadAllBytes(Path.Combine(again, ResultName.Record))) ?? throw new ResultFolderException($"'{again}' has no record.");
            Files = [.. FileComparison.Of(folder, inspection, again, now, inputs, dated)];
        }
        catch (Exception e) when (e is (IOException or UnauthorizedAccessException) and not ResultFolderException)
        {
            throw new ResultFolderException($"Cannot compare '{folder}': {e.Message}", e);
        }

        Reasons = [.. Explain(inputs)];
    }

    /// <summary>Every file.</summary>
    public ImmutableArray<FileComparison> Files { get; }

    /// <summary>What explains differences, in words; what has changed is told even when every byte is the same.</summary>
    public ImmutableArray<string> Reasons { get; }

    /// <summary>True when everything comes out again and the folder is as it was written.</summary>
    public bool IsSame => Files.All(f => f.IsGood);

    /// <summary>The answer in a few lines.</summary>
    public IReadOnlyList<AnswerLine> Answer()
    {
        var then = inspection.Record!;
        int compared = Files.Count(f => f.Verdict != FileVerdict.Dated), same = Files.Count(f => f.IsGood && f.Verdict != FileVerdict.Dated);
        bool picturesOnly = !IsSame && Files.Where(f => !f.IsGood).All(f => f.Name.StartsWith("plots/", StringComparison.Ordinal));
        string verdict = IsSame
            ? string.Create(CultureInfo.InvariantCulture, $"all {compared} files come out again, {(Files.Any(f => f.Verdict == FileVerdict.NamesDataFiles) ? "byte for byte but for the names of data files in lists of inputs" : "byte for byte")}{(Files.Any(f => f.Verdict == FileVerdict.SameButForRecord) ? ", of the report all but its own record" : "")}")
            : string.Create(CultureInfo.InvariantCulture, $"{compared - same} of {compared} files do not come out again as they stand in the folder{(picturesOnly ? "; only pictures: every number is the same" : "")}");
        return
        [
            new("record", $"{then.Command}: {then.Scenario}" + (then.ScenarioSha256 is null ? "" : string.Create(CultureInfo.InvariantCulture, $", seed {then.Seed}, {then.Lifetimes} {(then.Lifetimes == 1 ? "lifetime" : "lifetimes")}"))),
            new("made", $"{then.Started.ToUniversalTime().ToString("yyyy-MM-dd HH:mm:ss 'UTC'", CultureInfo.InvariantCulture)}, {Maker(then)}"),
            new("again", $"{now.Started.ToUniversalTime().ToString("yyyy-MM-dd HH:mm:ss 'UTC'", CultureInfo.InvariantCulture)}, {Maker(now)}"),
            new("verdict", verdict, IsSame ? AnswerTone.Met : AnswerTone.Missed),
            .. Reasons.Select((r, i) => new AnswerLine(i == 0 ? "because" : "", r)),
        ];
    }

    /// <summary>The files that need an explanation; every file when all are asked for.</summary>
    public Table Table(bool all = false)
    {
        var table = new Table("files", new("file", ColumnKind.Text, "File"), new("verdict", ColumnKind.Text, "Verdict"), new("first_difference", ColumnKind.Text, "First difference"));
        foreach (var f in Files.Where(f => all || !f.IsGood))
        {
            table.Add(f.Name, f.Words, f.Where?.Words);
        }

        return table;
    }

    /// <summary>The same for machines.</summary>
    public SummaryDocument Document()
    {
        var then = inspection.Record!;
        var document = new SummaryDocument("reproduce", then.Scenario);
        document.Root.Add("same", JsonValue.Create(IsSame));
        foreach (var (name, record) in new[] { ("then", then), ("now", now) })
        {
            document.Root.Object(name).Text("command", record.Command).Text("version", record.Version).Text("commit", record.Commit).Text("runtime", record.Runtime)
                .Text("machine", record.Machine).Text("scenarioSha256", record.ScenarioSha256).Text("seed", record.Seed.ToString(CultureInfo.InvariantCulture))
                .Count("lifetimes", record.Lifetimes);
        }

        var reasons = document.Root.Array("reasons");
        foreach (string reason in Reasons)
        {
            reasons.Add(JsonValue.Create(reason));
        }

        var files = document.Root.Array("files");
        foreach (var f in Files)
        {
            var entry = new JsonObject().Text("name", f.Name).Text("verdict", f.Words);
            if (f.Where is { Line: > 0 } where)
            {
                entry.Count("line", where.Line).Count("column", where.Column).Text("field", where.Field).Text("inTheFolder", where.InTheFolder).Text("now", where.Now);
            }

            files.Add(entry);
        }

        return document;
    }

    private static string Maker(RunRecord record) => $"version {record.Version}, commit {record.Commit ?? "not known"}, {record.Runtime}, {record.Machine}";

    private IEnumerable<string> Explain(IReadOnlyCollection<string> inputs)
    {
        var then = inspection.Record!;
        if (then.Version != now.Version || then.Commit != now.Commit)
        {
            yield return $"another version: then {then.Version}, commit {then.Commit ?? "not known"}; now {now.Version}, commit {now.Commit ?? "not known"} (docs/CHANGELOG.md, 'Numbers change')";
        }

        if (then.Runtime != now.Runtime)
        {
            yield return $"another runtime: then {then.Runtime}; now {now.Runtime}";
        }

        if (then.Machine != now.Machine)
        {
            yield return $"another machine: then {then.Machine}; now {now.Machine}";
        }

        foreach (string input in inputs.Where(i => inspection.Changed.Contains(i)))
        {
            yield return $"{input} was changed since it was written: its hash is not that of the record; it was run as it stands now";
        }

        if (then.ScenarioSha256 is { } sha && then.Files.TryGetValue("scenario.yaml", out var listed) && listed.Sha256 != sha)
        {
            yield return "the record contradicts itself: it gives two different hashes of scenario.yaml";
        }

        if (then.Seed != now.Seed)
        {
            yield return string.Create(CultureInfo.InvariantCulture, $"another seed: then {then.Seed}; now {now.Seed}");
        }

        if (then.Lifetimes != now.Lifetimes)
        {
            yield return string.Create(CultureInfo.InvariantCulture, $"another number of lifetimes: then {then.Lifetimes}; now {now.Lifetimes}");
        }

        foreach (string reason in ExplainFiles(inputs))
        {
            yield return reason;
        }
    }

    private IEnumerable<string> ExplainFiles(IReadOnlyCollection<string> inputs)
    {
        var then = inspection.Record!;
        string[] edited = [.. inspection.Changed.Except(inputs)];
        if (edited.Length > 0)
        {
            yield return $"changed in the folder since it was written: {string.Join(", ", edited)}";
        }

        if (!inspection.Missing.IsEmpty)
        {
            yield return $"missing in the folder: {string.Join(", ", inspection.Missing)}";
        }

        if (!inspection.Unlisted.IsEmpty)
        {
            yield return $"in the folder, but not in the record: {string.Join(", ", inspection.Unlisted)}";
        }

        bool sameMaker = then.Version == now.Version && then.Commit == now.Commit && then.Runtime == now.Runtime && then.Machine == now.Machine;
        bool ownFault = Files.Any(f => f.Verdict is FileVerdict.Differs or FileVerdict.NotMadeNow or FileVerdict.NotRecorded) && !inputs.Any(i => inspection.Changed.Contains(i));
        if (sameMaker && ownFault)
        {
            yield return "nothing in the record explains what differs: version, commit, runtime, machine and scenario are the same. Either the record was made by hand, or by a build "
                + "with changes that were not committed, or this is a fault of the tool; please report it";
        }
    }
}
