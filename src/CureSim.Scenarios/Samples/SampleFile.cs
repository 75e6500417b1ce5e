using System.Security.Cryptography;
using System.Text;

namespace CureSim.Scenarios;

/// <summary>Reads measured values from a CSV file: all its problems at once, with line and column.</summary>
/// <remarks>
/// UTF-8, with or without byte order mark; comma, semicolon or tab between cells, whichever the header line has most of; lines that begin with # and
/// blank lines are skipped. Numbers have a decimal point. The unit stands in the header: "dose [J/cm2]", "dose (J/cm²)", "dose_j_per_cm2".
/// </remarks>
public static class SampleFile
{
    /// <summary>Largest file that is read, bytes.</summary>
    public const long SizeLimit = 100_000_000;

    /// <summary>Most rows that are read.</summary>
    public const int RowLimit = 1_000_000;

    /// <summary>Most cells that are read: each takes some fifty bytes of memory.</summary>
    public const int CellLimit = 20_000_000;

    /// <summary>Values other than zero lie between 1e-60 and 1e60 in size: no measurement is beyond, and their fourth powers stay finite.</summary>
    public const double LargestSize = 1e60;

    /// <summary>Whether a value is of a size that can be worked with.</summary>
    public static bool HasUsableSize(double value) => value == 0.0 || Math.Abs(value) is >= 1.0 / LargestSize and <= LargestSize;

    /// <summary>Reads a file.</summary>
    public static SampleReading Read(string path, SampleChoice choice)
    {
        ArgumentNullException.ThrowIfNull(path);
        ArgumentNullException.ThrowIfNull(choice);
        const string Accepted = "a CSV file (UTF-8) of at most 100 MB";
        string name = SampleText.OneLine(path);
        SampleReading Refuse(string found) => new(null, [new Problem(name, 0, 0, "", found, Accepted, null)]);
        try
        {
            if (Directory.Exists(path))
            {
                return Refuse("a folder");
            }

            var info = new FileInfo(path);
            if (!info.Exists)
            {
                return Refuse("no such file");
            }

            if (info.Length > SizeLimit)
            {
                return Refuse(FormattableString.Invariant($"{info.Length} bytes"));
            }

            return Parse(name, BoundedFile.Read(path, SizeLimit), choice);
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

    /// <summary>Reads the bytes of a file.</summary>
    /// <param name="name">The file's name for messages.</param>
    /// <param name="bytes">Its content.</param>
    /// <param name="choice">What is wanted of it.</param>
    /// <exception cref="DecoderFallbackException">The bytes are not UTF-8.</exception>
    internal static SampleReading Parse(string name, byte[] bytes, SampleChoice choice)
    {
        string text = new UTF8Encoding(false, throwOnInvalidBytes: true).GetString(bytes).TrimStart('\uFEFF');
        var findings = new SampleFindings(name);
        var rows = SampleRows.Read(text, findings);
        var sample = rows is null ? null : new SampleColumns(rows, choice, findings).Take(name, Convert.ToHexStringLower(SHA256.HashData(bytes)));
        return new SampleReading(findings.Any ? null : sample, findings.Problems);
    }
}
