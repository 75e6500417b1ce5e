using System.Globalization;
using System.Text;
using CureSim.Reports.Folders;
using CureSim.Reports.Pages;

namespace CureSim.Reports.Reproduce;

/// <summary>What became of one file when its results were made again.</summary>
public enum FileVerdict
{
    /// <summary>The same bytes as recorded, then and now.</summary>
    Same,

    /// <summary>It comes out again as recorded, but the file in the folder was changed since.</summary>
    ChangedInTheFolder,

    /// <summary>It comes out again as recorded, but is gone from the folder.</summary>
    MissingInTheFolder,

    /// <summary>It comes out with other bytes than recorded.</summary>
    Differs,

    /// <summary>An input that was changed since it was written; what was made now was made from it as it stands.</summary>
    ChangedInput,

    /// <summary>Recorded, but not made now.</summary>
    NotMadeNow,

    /// <summary>Made now, but not recorded.</summary>
    NotRecorded,

    /// <summary>In the folder, but neither recorded nor made now.</summary>
    Foreign,

    /// <summary>A list of inputs that names data files, of which the resolved scenario holds the values; the same in all else.</summary>
    NamesDataFiles,

    /// <summary>Holds date or machine: not compared with what is made now.</summary>
    Dated,

    /// <summary>A report that is the same but for the lines of its own record: version, runtime, machine, date, duration, threads.</summary>
    SameButForRecord,
}

/// <summary>One file of the record, of what was made now, or of the folder.</summary>
/// <param name="Name">Relative, forward slashes.</param>
/// <param name="Verdict">What became of it.</param>
/// <param name="Where">For a text that differs: its first difference; null when it cannot be shown.</param>
public sealed record FileComparison(string Name, FileVerdict Verdict, Difference? Where)
{
    /// <summary>Texts longer than this are not searched for their first difference, bytes.</summary>
    internal const long SearchLimit = 64L << 20;

    /// <summary>True when nothing has to be explained.</summary>
    public bool IsGood => Verdict is FileVerdict.Same or FileVerdict.NamesDataFiles or FileVerdict.Dated or FileVerdict.SameButForRecord;

    /// <summary>The verdict in words.</summary>
    public string Words => Verdict switch
    {
        FileVerdict.Same => "same",
        FileVerdict.ChangedInTheFolder => "changed in the folder since it was written; comes out again as recorded",
        FileVerdict.MissingInTheFolder => "missing in the folder; comes out again as recorded",
        FileVerdict.Differs => "differs",
        FileVerdict.ChangedInput => "changed in the folder since it was written; run as it stands",
        FileVerdict.NotMadeNow => "recorded, but not made now",
        FileVerdict.NotRecorded => "made now, but not recorded",
        FileVerdict.NamesDataFiles => "same but for data files, which it names and scenario.yaml holds by value",
        FileVerdict.SameButForRecord => "same but for the lines of its own record (version, machine, date, duration)",
        FileVerdict.Foreign => "in the folder, but not of this tool",
        _ => "holds date and machine, not compared",
    };

    /// <summary>Compares every file.</summary>
    /// <param name="folder">The folder that is looked at.</param>
    /// <param name="then">What was found in it.</param>
    /// <param name="again">Where the results were made again.</param>
    /// <param name="now">The record of that.</param>
    /// <param name="inputs">Files of the folder from which that was made.</param>
    /// <param name="dated">Files that are never the same twice.</param>
    public static IReadOnlyList<FileComparison> Of(
        string folder, FolderInspection then, string again, RunRecord now, IReadOnlyCollection<string> inputs, IReadOnlyCollection<string> dated)
    {
        ArgumentNullException.ThrowIfNull(then);
        ArgumentNullException.ThrowIfNull(now);
        ArgumentNullException.ThrowIfNull(dated);
        var recorded = then.Record!.Files;
        var files = new List<FileComparison>();
        foreach (string name in recorded.Keys.Union(now.Files.Keys).Order(StringComparer.Ordinal))
        {
            bool changed = then.Changed.Contains(name), missing = then.Missing.Contains(name);
            FileVerdict verdict = (recorded.GetValueOrDefault(name), now.Files.GetValueOrDefault(name)) switch
            {
                (null, _) => FileVerdict.NotRecorded,
                (_, null) => FileVerdict.NotMadeNow,
                ({ } was, { } isNow) when was != isNow && changed && inputs.Contains(name) => FileVerdict.ChangedInput,
                ({ } was, { } isNow) when was != isNow && !dated.Contains(name) => FileVerdict.Differs,
                _ when changed => FileVerdict.ChangedInTheFolder,
                _ when missing => FileVerdict.MissingInTheFolder,
                _ => dated.Contains(name) ? FileVerdict.Dated : FileVerdict.Same,
            };
            if (verdict == FileVerdict.Differs && !changed && !missing && InputLists.Includes(name)
                && InputLists.SameButForDataFiles(Difference.Text(Path.Combine(folder, name)), Difference.Text(Path.Combine(again, name))))
            {
                verdict = FileVerdict.NamesDataFiles;
            }

            if (verdict == FileVerdict.Differs && !changed && !missing && name == ReportFiles.Page && SamePage(folder, again))
            {
                verdict = FileVerdict.SameButForRecord;
            }

            if (verdict == FileVerdict.Differs && !changed && !missing && name is ReportFile.Name or ReportFiles.Page && verdict == FileVerdict.Differs
                && InputLists.SameReportsButForDataFiles(Read(folder), Read(again)))
            {
                verdict = FileVerdict.NamesDataFiles;
            }

            bool show = (verdict is FileVerdict.Differs or FileVerdict.ChangedInTheFolder) && !missing && !dated.Contains(name);
            files.Add(new(name, verdict, show ? Difference.Of(Path.Combine(folder, name), Path.Combine(again, name)) : null));
        }

        ReportContent? Read(string place)
        {
            var file = new FileInfo(Path.Combine(place, ReportFile.Name));
            return file is { Exists: true, Length: > 0 and <= ReportFile.MostBytes } ? ReportFile.Read(File.ReadAllBytes(file.FullName), out _) : null;
        }

        files.AddRange(then.Unlisted.Where(n => !now.Files.ContainsKey(n)).Select(n => new FileComparison(n, FileVerdict.Foreign, null)));
        return files;
    }

    private static bool SamePage(string folder, string again)
    {
        string then = Difference.Text(Path.Combine(folder, ReportFiles.Page)), now = Difference.Text(Path.Combine(again, ReportFiles.Page));
        return then.Length > 0 && ReportPage.WithoutRecord(then) == ReportPage.WithoutRecord(now);
    }
}

/// <summary>The first place at which two texts differ.</summary>
/// <param name="Line">From 1; 0 for files that are no text.</param>
/// <param name="Column">From 1, in characters; for a table the number of the field.</param>
/// <param name="Field">Name of the table's column; null for other texts.</param>
/// <param name="InTheFolder">What the folder has there.</param>
/// <param name="Now">What was made now.</param>
public sealed record Difference(int Line, int Column, string? Field, string InTheFolder, string Now)
{
    private const int Shown = 40;

    /// <summary>In words.</summary>
    public string Words => Line == 0
        ? "the bytes differ"
        : string.Create(
            CultureInfo.InvariantCulture, $"line {Line}, column {Column}{(Field is null ? "" : $" ({Field})")}: {Quoted(InTheFolder)} in the folder, {Quoted(Now)} now");

    /// <summary>Compares two files; null when neither is a text that can be searched.</summary>
    internal static Difference? Of(string inFolder, string now)
    {
        if (Path.GetExtension(inFolder) is ".png")
        {
            return new(0, 0, null, "", "");
        }

        if (new FileInfo(inFolder).Length > FileComparison.SearchLimit || new FileInfo(now).Length > FileComparison.SearchLimit)
        {
            return null;
        }

        string[] a = Text(inFolder).Split('\n'), b = Text(now).Split('\n');
        int line = 0;
        while (line < a.Length && line < b.Length && a[line] == b[line])
        {
            line++;
        }

        if (line == a.Length && line == b.Length)
        {
            return new(0, 0, null, "", ""); // a byte order mark, or bytes that are no text
        }

        string left = line < a.Length ? a[line] : "", right = line < b.Length ? b[line] : "";
        return Path.GetExtension(inFolder) == ".csv" && line < a.Length && line < b.Length && InTable(b[0], left, right, line) is { } inTable
            ? inTable
            : InText(left, right, line, line < a.Length, line < b.Length);
    }

    /// <summary>A text file; empty when it is too long to be searched. What is no regular file has length 0 and is not opened: a pipe would be waited for.</summary>
    internal static string Text(string path) => new FileInfo(path).Length is 0 or > FileComparison.SearchLimit ? "" : File.ReadAllText(path, Encoding.UTF8);

    // Fields are split at commas outside quotes; where the two lines have other numbers of fields the text itself is told.
    private static Difference? InTable(string header, string left, string right, int line)
    {
        string[] a = Fields(left), b = Fields(right), names = Fields(header);
        int field = Enumerable.Range(0, Math.Min(a.Length, b.Length)).FirstOrDefault(i => a[i] != b[i], -1);
        return field < 0 || a.Length != b.Length ? null : new(line + 1, field + 1, field < names.Length ? names[field] : null, a[field], b[field]);
    }

    private static Difference InText(string left, string right, int line, bool hasLeft, bool hasRight)
    {
        int column = 0;
        while (column < left.Length && column < right.Length && left[column] == right[column])
        {
            column++;
        }

        int from = Math.Max(0, column - 20);
        return new(line + 1, column + 1, null, hasLeft ? left[Math.Min(from, left.Length)..] : "end of file", hasRight ? right[Math.Min(from, right.Length)..] : "end of file");
    }

    private static string[] Fields(string line)
    {
        var fields = new List<string>();
        int start = 0;
        bool quoted = false;
        for (int i = 0; i <= line.Length; i++)
        {
            if (i == line.Length || (line[i] == ',' && !quoted))
            {
                string field = line[start..i];
                fields.Add(field is ['"', .., '"'] ? field[1..^1] : field);
                start = i + 1;
            }
            else if (line[i] == '"')
            {
                quoted = !quoted;
            }
        }

        return [.. fields];
    }

    private static string Quoted(string text) => "\"" + (text.Length > Shown ? text[..Shown] + "…" : text) + "\"";
}
