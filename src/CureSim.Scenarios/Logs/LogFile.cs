using System.Collections.Immutable;
using System.Security.Cryptography;
using System.Text;
using CureSim.Core.Logs;

namespace CureSim.Scenarios;

/// <summary>What a command line says about a log.</summary>
/// <param name="Columns">Role (a word of <see cref="LogFile.Roles"/>) → header.</param>
/// <param name="Unit">Unit of the readings where the header has none; null for none.</param>
/// <param name="HoursAWeek">Lit hours in a calendar week, for logs with dates and no hours; null when not said.</param>
/// <param name="StartHours">Hours of the first emitter where the log begins; null when not said.</param>
public sealed record LogChoice(ImmutableDictionary<string, string> Columns, string? Unit = null, double? HoursAWeek = null, double? StartHours = null);

/// <summary>How a column was taken.</summary>
/// <param name="Role">What it holds, as the command line says it.</param>
/// <param name="Meaning">The same in words.</param>
/// <param name="Header">Its header.</param>
/// <param name="Guessed">False when the command line said so.</param>
public sealed record LogColumnNote(string Role, string Meaning, string Header, bool Guessed);

/// <summary>A log, or all that is wrong with its file.</summary>
/// <param name="File">As it was named.</param>
/// <param name="Sha256">Of its bytes; empty after a problem.</param>
/// <param name="Log">Null after a problem.</param>
/// <param name="Columns">How the columns were taken.</param>
/// <param name="Notes">What a reader should know: empty rows, columns left aside.</param>
/// <param name="Problems">In the order of the file.</param>
public sealed record LogReading(string File, string Sha256, ReadingLog? Log, ImmutableArray<LogColumnNote> Columns, ImmutableArray<string> Notes, ImmutableArray<Problem> Problems);

/// <summary>Reads a radiometer log. The file is not trusted: its size and the number and length of its rows are bounded, and it is read as a stream.</summary>
public static class LogFile
{
    /// <summary>Largest file, bytes: as for measured parts.</summary>
    public const long SizeLimit = SampleFile.SizeLimit;

    /// <summary>Most rows: a reading an hour for more than ten years.</summary>
    public const int RowLimit = 100_000;

    /// <summary>Most cells: fifty columns of <see cref="RowLimit"/> rows.</summary>
    public const int CellLimit = 50 * RowLimit;

    /// <summary>Words for the roles of columns.</summary>
    public static string Roles => LogRoleWords.Listed;

    /// <summary>Reads a file.</summary>
    public static LogReading Read(string path, LogChoice choice)
    {
        ArgumentNullException.ThrowIfNull(path);
        ArgumentNullException.ThrowIfNull(choice);
        string name = SampleText.OneLine(path);
        LogReading Refuse(string found) => new(name, "", null, [], [], [new Problem(name, 0, 0, "", found, "a CSV file (UTF-8) of at most 100 MB", null)]);
        try
        {
            if (Directory.Exists(path))
            {
                return Refuse("a folder");
            }

            var info = new FileInfo(path);
            return !info.Exists ? Refuse("no such file")
                : info.Length > SizeLimit ? Refuse(FormattableString.Invariant($"{info.Length} bytes"))
                : Parse(name, () => new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.Read), choice);
        }
        catch (DecoderFallbackException)
        {
            return Refuse("bytes that are not UTF-8");
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or ArgumentException or NotSupportedException)
        {
            return Refuse($"a file that cannot be read ({SampleText.OneLine(e.Message.TrimEnd('.'))})");
        }
    }

    /// <summary>Reads a stream that can be opened again and again.</summary>
    /// <exception cref="DecoderFallbackException">The bytes are not UTF-8.</exception>
    internal static LogReading Parse(string name, Func<Stream> open, LogChoice choice)
    {
        var findings = new SampleFindings(name);
        var rows = SampleRows.Read(() => new StreamReader(open(), new UTF8Encoding(false, throwOnInvalidBytes: true)), RowLimit, CellLimit, findings);
        LogRows? read = rows is null ? null : LogRows.Take(rows, choice, findings);
        if (findings.Any || read is null)
        {
            return new(name, "", null, read?.Columns ?? [], [], findings.Problems);
        }

        using var bytes = open();
        return new(name, Convert.ToHexStringLower(SHA256.HashData(bytes)), read.Log, read.Columns, read.Notes, []);
    }
}
