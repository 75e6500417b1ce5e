using System.Collections.Immutable;
using System.Globalization;
using CsvHelper;
using CsvHelper.Configuration;

namespace CureSim.Scenarios;

/// <summary>Takes columns of a CSV file as lists of values with units, each with its place in the file.</summary>
internal sealed class CsvColumns(ReadContext context)
{
    /// <summary>Most rows that are read: the values are written out in the resolved scenario.</summary>
    public const int RowLimit = 10_000;

    private Findings Findings => context.Findings;

    /// <summary>{ csv, column, unit } → the values; null after a problem.</summary>
    public ListNode? ForDistribution(MapNode map, string path, Dimension dimension)
    {
        string[] known = ["csv", "column", "unit"];
        foreach (MapEntry entry in map.Entries.Where(e => !known.Contains(e.Key)))
        {
            Findings.Problem(entry.KeyPlace, path, $"the unknown key \"{entry.Key}\"", string.Join(", ", known), NearestWord.OfKey(entry.Key, known));
        }

        if (map["csv"] is not ScalarNode { IsEmpty: false } csv || map["column"] is not ScalarNode { IsEmpty: false } column)
        {
            Findings.Problem(map.Place, path, map.Found, "{ csv: file name, column: header } or a list of values");
            return null;
        }

        return Read(csv, [(column, dimension, (map["unit"] as ScalarNode)?.Text)], path)?[0];
    }

    /// <summary>Columns of one file, row by row alike; null after a problem.</summary>
    public ListNode[]? Read(ScalarNode file, (ScalarNode Header, Dimension Dimension, string? Unit)[] columns, string path)
    {
        if (context.Data.Read(file.Text, file.Place, path + ".csv", Findings) is not { } text)
        {
            return null;
        }

        var settings = new CsvConfiguration(CultureInfo.InvariantCulture) { TrimOptions = TrimOptions.Trim, BadDataFound = null, MissingFieldFound = null };
        using var csv = new CsvReader(new StringReader(text), settings);
        if (!csv.Read() || !csv.ReadHeader() || csv.HeaderRecord is not { } headers)
        {
            Findings.Problem(new Place(file.Text, 1, 1), path, "an empty file", "a header line and rows");
            return null;
        }

        int[] at = [.. columns.Select(c => Array.IndexOf(headers, c.Header.Text))];
        string?[] units = [.. columns.Select(c => c.Unit ?? UnitOfHeader(c.Header.Text, c.Dimension))];
        bool bad = false;
        for (int i = 0; i < columns.Length; i++)
        {
            if (at[i] < 0)
            {
                bad = true;
                Findings.Problem(
                    columns[i].Header.Place, path, $"{columns[i].Header.Found}, which {file.Text} has no column of", string.Join(", ", headers),
                    NearestWord.Question(columns[i].Header.Text, headers));
            }
            else if (units[i] is null)
            {
                bad = true;
                Findings.Problem(
                    columns[i].Header.Place, path, $"the header {columns[i].Header.Found}, which does not end in a unit",
                    string.Join(", ", HeaderUnits(columns[i].Dimension).Select(u => "..._" + u.Suffix)));
            }
        }

        return bad ? null : Rows(csv, file.Text, [.. at], units!, path);
    }

    private ListNode[]? Rows(CsvReader csv, string file, int[] at, string[] units, string path)
    {
        var lists = at.Select(_ => ImmutableArray.CreateBuilder<ScenarioNode>()).ToArray();
        bool bad = false;
        while (csv.Read())
        {
            int line = csv.Parser.RawRow;
            if (lists[0].Count == RowLimit)
            {
                Findings.Problem(new Place(file, line, 1), path, $"more than {RowLimit} rows", $"at most {RowLimit} rows");
                return null;
            }

            for (int i = 0; i < at.Length; i++)
            {
                string cell = csv.GetField(at[i]) ?? "";
                if (!double.TryParse(cell, NumberStyles.Float, CultureInfo.InvariantCulture, out double number) || !double.IsFinite(number))
                {
                    bad = true;
                    Findings.Problem(new Place(file, line, at[i] + 1), path, $"\"{cell}\"", "a number (decimal point, no unit)");
                }

                lists[i].Add(new ScalarNode(units[i].Length == 0 ? cell : $"{cell} {units[i]}", false, new Place(file, line, at[i] + 1), Origin.Yours));
            }
        }

        return bad ? null : [.. lists.Select(l => new ListNode(l.ToImmutable(), new Place(file, 1, 1), Origin.Yours))];
    }

    private static string? UnitOfHeader(string header, Dimension dimension) => dimension.Form == DimensionForm.Bare
        ? ""
        : HeaderUnits(dimension).Where(u => header.EndsWith("_" + u.Suffix, StringComparison.Ordinal)).OrderByDescending(u => u.Suffix.Length).FirstOrDefault().Unit;

    /// <summary>Units as headers write them: "W/cm2" is w_per_cm2, "%/1000 h" is percent_per_1000_h.</summary>
    internal static IEnumerable<(string Suffix, string Unit)> HeaderUnits(Dimension dimension)
    {
        IEnumerable<string> units = dimension.Form switch
        {
            DimensionForm.Bare => [],
            DimensionForm.Rate => dimension.Units.Select(u => "/" + u.Symbol),
            DimensionForm.PercentRate => dimension.Units.Select(u => "%/" + u.Symbol).Append("%/1000 h"),
            DimensionForm.PercentPerCount => ["%/exposure", "%/10000 exposures"],
            _ => dimension.Units.Select(u => u.Symbol),
        };
        return units.Select(u => (u.ToLowerInvariant().Replace("%", "percent").Replace("/", "_per_").Replace(" ", "_").TrimStart('_'), u));
    }
}
