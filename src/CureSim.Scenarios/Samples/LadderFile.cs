using System.Collections.Immutable;
using System.Globalization;
using System.Security.Cryptography;
using System.Text;

namespace CureSim.Scenarios;

/// <summary>One part of a dose ladder.</summary>
/// <param name="Irradiance">W/cm².</param>
/// <param name="Time">s.</param>
/// <param name="Response">In the file's unit; null when only pass or fail was noted.</param>
/// <param name="Passed">Result; null when only the response was noted.</param>
public sealed record LadderPart(double Irradiance, double Time, double? Response, bool? Passed);

/// <summary>A dose ladder as measured.</summary>
/// <param name="Parts">Parts.</param>
/// <param name="HasIrradiance">False when the file gives doses only: irradiance is then 1 W/cm² and time stands for dose.</param>
/// <param name="ResponseName">Header of the response without its unit; null without.</param>
/// <param name="ResponseUnit">Its unit; null without.</param>
/// <param name="Sha256">Of the file.</param>
public sealed record DoseLadder(ImmutableArray<LadderPart> Parts, bool HasIrradiance, string? ResponseName, string? ResponseUnit, string Sha256);

/// <summary>What came of reading a ladder.</summary>
public sealed record LadderReading(DoseLadder? Ladder, ImmutableArray<Problem> Problems);

/// <summary>Reads a dose ladder from CSV: columns irradiance and time (or dose), response and/or result, by name, units in the headers.</summary>
public static class LadderFile
{
    private const string Columns = "columns irradiance and time, or dose; and response, result (pass or fail), or both";
    private static readonly string[] Passes = ["pass", "passed", "good", "ok", "yes", "1"];
    private static readonly string[] Fails = ["fail", "failed", "bad", "no", "0"];

    /// <summary>Reads a file.</summary>
    public static LadderReading Read(string path)
    {
        ArgumentNullException.ThrowIfNull(path);
        string name = SampleText.OneLine(path);
        LadderReading Refuse(string found) => new(null, [new Problem(name, 0, 0, "", found, "a CSV file (UTF-8) of at most 1 MB", null)]);
        try
        {
            var info = new FileInfo(path);
            if (Directory.Exists(path))
            {
                return Refuse("a folder");
            }

            return !info.Exists ? Refuse("no such file") : info.Length > 1_000_000 ? Refuse(FormattableString.Invariant($"{info.Length} bytes")) : Parse(name, BoundedFile.Read(path, 1_000_000));
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
    public static LadderReading Parse(string name, byte[] bytes)
    {
        ArgumentNullException.ThrowIfNull(bytes);
        string text = new UTF8Encoding(false, throwOnInvalidBytes: true).GetString(bytes).TrimStart('\uFEFF');
        var findings = new SampleFindings(name);
        if (SampleRows.Read(text, findings) is not { } rows)
        {
            return new(null, findings.Problems);
        }

        int? Column(string word)
        {
            int[] found = [.. Enumerable.Range(0, rows.Headers.Length).Where(i => NameOf(rows.Headers[i]).Name.Equals(word, StringComparison.OrdinalIgnoreCase))];
            if (found.Length > 1)
            {
                findings.Add(rows.HeaderLine, found[1] + 1, word, "a second column of that name", "one column of each name");
            }

            return found.Length > 0 ? found[0] : null;
        }

        int? irradiance = Column("irradiance"), time = Column("time"), dose = Column("dose"), response = Column("response"), result = Column("result");
        bool pair = irradiance is not null && time is not null;
        if ((!pair && dose is null) || (response is null && result is null))
        {
            findings.Add(rows.HeaderLine, 1, "", $"columns {string.Join(", ", rows.Headers.Select(SampleText.Shown))}", Columns);
            return new(null, findings.Problems);
        }

        SampleUnit? UnitOf(int? column, string kind, string usual)
        {
            if (column is not { } c)
            {
                return null;
            }

            var unit = NameOf(rows.Headers[c]).Unit;
            if (unit?.Kind != kind)
            {
                findings.Add(rows.HeaderLine, c + 1, SampleText.Shown(rows.Headers[c]), unit is null ? "no unit that is known" : $"a unit of {unit.Kind}", $"a unit in the header, such as {usual}");
                return null;
            }

            return unit;
        }

        var ofIrradiance = pair ? UnitOf(irradiance, "an irradiance", "irradiance_w_per_cm2") : null;
        var ofTime = pair ? UnitOf(time, "a time", "time_s") : null;
        var ofDose = pair ? null : UnitOf(dose, "a dose", "dose_j_per_cm2");
        var parts = ImmutableArray.CreateBuilder<LadderPart>();
        for (int r = 0; r < rows.Cells.Count && !(findings.Any && parts.Count == 0 && r > 100); r++)
        {
            double Value(int column, SampleUnit? unit, bool positive)
            {
                string cell = rows.Cells[r][column].Trim();
                if (double.TryParse(cell, NumberStyles.Float, CultureInfo.InvariantCulture, out double v) && SampleFile.HasUsableSize(v) && (!positive || v > 0.0))
                {
                    return unit is null ? v : v * ScaleOf(unit);
                }

                findings.Add(rows.Lines[r], column + 1, SampleText.Shown(rows.Headers[column]), $"\"{SampleText.Shown(cell)}\"", positive ? "a number above 0 with a decimal point" : "a number with a decimal point");
                return double.NaN;
            }

            double i = pair ? Value(irradiance!.Value, ofIrradiance, true) : 1.0, t = pair ? Value(time!.Value, ofTime, true) : Value(dose!.Value, ofDose, true);
            double? y = response is { } c ? Value(c, null, false) : null;
            bool? passed = null;
            if (result is { } p)
            {
                string word = rows.Cells[r][p].Trim();
                passed = Passes.Contains(word, StringComparer.OrdinalIgnoreCase) ? true : Fails.Contains(word, StringComparer.OrdinalIgnoreCase) ? false : null;
                if (passed is null)
                {
                    findings.Add(rows.Lines[r], p + 1, "result", $"\"{SampleText.Shown(word)}\"", "pass or fail");
                }
            }

            parts.Add(new(i, t, y, passed));
        }

        if (findings.Any)
        {
            return new(null, findings.Problems);
        }

        string? unitOfResponse = response is { } at ? NameOf(rows.Headers[at]).Unit?.Shown : null;
        return new(new(parts.ToImmutable(), pair, response is null ? null : "response", unitOfResponse, Convert.ToHexStringLower(SHA256.HashData(bytes))), []);
    }

    // Values of a column are kept in the usual units of the trade, whatever its header says.
    private static double ScaleOf(SampleUnit unit) => unit.Suffix switch
    {
        "mw_per_cm2" or "mj_per_cm2" or "ms" => 1e-3,
        "w_per_m2" or "j_per_m2" => 1e-4,
        "min" => 60.0,
        "h" => 3600.0,
        _ => 1.0,
    };

    private static (string Name, SampleUnit? Unit) NameOf(string header)
    {
        string text = header.Trim();
        if (SampleUnit.AtEnd(text.ToLowerInvariant()) is { } end)
        {
            return (end.Name, end.Unit);
        }

        int open = text.IndexOfAny(['[', '(']);
        return open > 0 ? (text[..open].Trim(), SampleUnit.Find(text[(open + 1)..].TrimEnd(']', ')').Trim())) : (text, null);
    }
}
