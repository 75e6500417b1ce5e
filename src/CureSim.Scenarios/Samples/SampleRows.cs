using System.Globalization;
using CsvHelper;
using CsvHelper.Configuration;

namespace CureSim.Scenarios;

/// <summary>The cells of a file of measured values, with the line that each row ends in.</summary>
internal sealed class SampleRows
{
    private const int LongestCell = 10_000;
    private const int MostColumns = 1000;
    private const int LongestRow = 1_000_000;

    private SampleRows(string[] headers, int headerLine, char delimiter)
    {
        Headers = headers;
        HeaderLine = headerLine;
        Delimiter = delimiter;
    }

    public string[] Headers { get; }

    public int HeaderLine { get; }

    public char Delimiter { get; }

    public List<string[]> Cells { get; } = [];

    public List<int> Lines { get; } = [];

    /// <summary>Splits a text; null when there is no header and row, or the file breaks off.</summary>
    public static SampleRows? Read(string text, SampleFindings findings) => Read(() => new StringReader(text), SampleFile.RowLimit, SampleFile.CellLimit, findings);

    /// <summary>The same from a text that is opened twice: for its header line, which decides what stands between cells, and for its rows.</summary>
    /// <remarks>Memory is bounded whatever the text is: a row by its length, all rows by their number and that of their cells.</remarks>
    public static SampleRows? Read(Func<TextReader> open, int rowLimit, int cellLimit, SampleFindings findings)
    {
        char delimiter = DelimiterOf(open);
        var settings = new CsvConfiguration(CultureInfo.InvariantCulture)
        {
            Delimiter = delimiter.ToString(), TrimOptions = TrimOptions.Trim, AllowComments = true, Comment = '#', BadDataFound = null, MissingFieldFound = null,
            MaxFieldSize = LongestCell, CacheFields = false,
        };
        using var reader = new RowLimitedReader(open(), LongestRow);
        using var csv = new CsvParser(reader, settings);
        SampleRows? rows = null;
        try
        {
            while (csv.Read())
            {
                reader.NextRow();
                string[] cells = csv.Record ?? [];
                if (cells.Length == 1 && cells[0].Length == 0)
                {
                    continue;
                }

                if (rows is null)
                {
                    if (cells.Length > MostColumns)
                    {
                        findings.Add(csv.RawRow, 1, "", FormattableString.Invariant($"{cells.Length} columns"), FormattableString.Invariant($"at most {MostColumns} columns"));
                        return null;
                    }

                    rows = new SampleRows(cells, csv.RawRow, delimiter);
                    continue;
                }

                if (rows.Cells.Count == rowLimit)
                {
                    findings.Add(csv.RawRow, 1, "", FormattableString.Invariant($"more than {rowLimit} rows"), FormattableString.Invariant($"at most {rowLimit} rows"));
                    return null;
                }

                if ((long)(rows.Cells.Count + 1) * rows.Headers.Length > cellLimit)
                {
                    findings.Add(csv.RawRow, 1, "", FormattableString.Invariant($"more than {cellLimit} cells"), FormattableString.Invariant($"at most {cellLimit} cells"), "leave out columns that are not used");
                    return null;
                }

                rows.Add(cells, csv.RawRow, findings);
            }
        }
        catch (RowTooLongException)
        {
            findings.Add(Math.Max(1, csv.RawRow), 1, "", FormattableString.Invariant($"a row (or remarks and blank lines before it) of more than {LongestRow} letters"), "short rows", "the file may be no table, or a quotation mark may not be closed");
            return null;
        }
        catch (CsvHelperException)
        {
            findings.Add(csv.RawRow, 1, "", FormattableString.Invariant($"a cell of more than {LongestCell} letters"), "short cells", "a quotation mark may not be closed");
            return null;
        }

        if (rows is null || rows.Cells.Count == 0)
        {
            if (!findings.Any)
            {
                findings.Add(1, 1, "", rows is null ? "an empty file" : "a header without rows", "a header line and rows of values");
            }

            return null;
        }

        return rows;
    }

    private void Add(string[] cells, int line, SampleFindings findings)
    {
        if (cells.Length == Headers.Length)
        {
            Cells.Add(cells);
            Lines.Add(line);
            return;
        }

        string? suggestion = Delimiter == ',' && cells.Length > Headers.Length ? "numbers have a decimal point; a comma separates cells" : null;
        findings.Add(
            line, 1, "", FormattableString.Invariant($"{cells.Length} {(cells.Length == 1 ? "cell" : "cells")}"),
            FormattableString.Invariant($"{Headers.Length} {(Headers.Length == 1 ? "cell" : "cells")}, one under each header"), suggestion);
    }

    // The header line decides: a number in it is unlikely, so a decimal comma does not mislead.
    private static char DelimiterOf(Func<TextReader> open)
    {
        using var reader = open();
        while (HeaderLineOf(reader) is { } line)
        {
            var content = line.AsSpan().Trim(" \t\"");
            if (content.Length > 0 && content[0] != '#')
            {
                int commas = line.Count(','), semicolons = line.Count(';'), tabs = line.Count('\t');
                return semicolons > commas && semicolons >= tabs ? ';' : tabs > commas ? '\t' : ',';
            }
        }

        return ',';
    }

    // A line without end is cut: a header is not longer than all cells that are read.
    private static string? HeaderLineOf(TextReader reader)
    {
        var line = new System.Text.StringBuilder();
        for (int c = reader.Read(); c >= 0; c = reader.Read())
        {
            if (c == '\n')
            {
                return line.ToString();
            }

            if (line.Length == LongestCell)
            {
                return line.ToString();
            }

            line.Append((char)c);
        }

        return line.Length > 0 ? line.ToString() : null;
    }
}
