using System.Collections.Immutable;
using CureSim.Reports.Tables;
using CureSim.Reports.Text;

namespace CureSim.Reports.Pages;

/// <summary>A column of a table on a page.</summary>
/// <param name="Heading">With its unit: "Dose, J/cm²".</param>
/// <param name="IsNumber">True: to the right.</param>
public sealed record PageColumn(string Heading, bool IsNumber);

/// <summary>A table as a page shows it: texts, no longer than a page bears.</summary>
/// <param name="File">Its CSV in the folder, such as tables/capability.csv; null when there is none.</param>
/// <param name="Columns">The columns.</param>
/// <param name="Rows">The rows that are shown.</param>
/// <param name="Total">How many there are in all.</param>
public sealed record PageTable(string? File, ImmutableArray<PageColumn> Columns, ImmutableArray<ImmutableArray<string>> Rows, int Total)
{
    /// <summary>Rows that a page shows; longer tables are read in their file.</summary>
    public const int MostRows = 30;

    /// <summary>A table of the result folder, shortened, its headers in words.</summary>
    /// <param name="table">The table.</param>
    /// <param name="isFile">False: it has no CSV in the folder.</param>
    /// <param name="columns">Headers of the columns to show, in their order; all when left out.</param>
    public static PageTable Of(Table table, bool isFile = true, params ReadOnlySpan<string> columns)
    {
        ArgumentNullException.ThrowIfNull(table);
        string[] wanted = columns.ToArray();
        int[] places = wanted.Length == 0 ? [.. Enumerable.Range(0, table.Columns.Length)]
            : [.. wanted.Select(w => Enumerable.Range(0, table.Columns.Length).First(i => table.Columns[i].Header == w))];

        // A column in which nothing stands tells nothing.
        places = [.. places.Where(i => table.Rows.Count == 0 || table.Rows.Any(r => !r[i].IsMissing))];
        double[] largest = [.. Enumerable.Range(0, table.Columns.Length).Select(i => table.Rows.Select(r => r[i].Raw is double v ? Math.Abs(v) : 0.0).DefaultIfEmpty().Max())];

        // A value whose interval stands in the two columns after it is shown with it, rounded as it allows; both columns then have no place of their own.
        bool Holds(int place, string end) => place < places.Length && table.Columns[places[place]] is { Kind: not ColumnKind.Text } column && column.Header.Contains(end, StringComparison.Ordinal);
        (int Lower, int Upper) Ends(int place) => !Holds(place, "lower95") && !Holds(place, "upper95") && Holds(place, "") && Holds(place + 1, "lower95") && Holds(place + 2, "upper95")
            ? (places[place + 1], places[place + 2]) : (-1, -1);
        var ends = Enumerable.Range(0, places.Length).ToDictionary(place => places[place], Ends);
        var taken = ends.Values.SelectMany(e => new[] { e.Lower, e.Upper }).Where(i => i >= 0).ToHashSet();
        places = [.. places.Where(i => !taken.Contains(i))];
        string Shown(ImmutableArray<Cell> row, int i) => ends[i] is { Lower: >= 0 } e && row[i].Number is { } value && row[e.Lower].Number is { } low && row[e.Upper].Number is { } high && low <= high
            ? Math.Max(Math.Abs(low), Math.Abs(high)) < Dust * largest[i] ? "0" : high > low ? Format.Interval(value, low, high) : table.Columns[i].Show(row[i])
            : table.Columns[i].Show(WithoutDust(row[i], largest[i]));
        return new(
            isFile ? $"tables/{table.Name}.csv" : null,
            [.. places.Select(i => new PageColumn(HeaderWords.Of(table.Columns[i]) + (ends[i].Lower >= 0 ? " (95 % interval)" : ""), table.Columns[i].Kind != ColumnKind.Text))],
            [.. table.Rows.Take(MostRows).Select(row => places.Select(i => Shown(row, i)).ToImmutableArray())],
            table.Rows.Count);
    }

    /// <summary>The same with the texts of a column said otherwise.</summary>
    /// <param name="heading">Heading of the column.</param>
    /// <param name="said">What a text becomes.</param>
    public PageTable Said(string heading, Func<string, string> said)
    {
        ArgumentNullException.ThrowIfNull(said);
        int at = Enumerable.Range(0, Columns.Length).FirstOrDefault(i => Columns[i].Heading == heading, -1);
        return at < 0 ? this : this with { Rows = [.. Rows.Select(r => r.SetItem(at, said(r[at])))] };
    }

    // Beside the largest value of its column an interval as short as this is nothing.
    private const double Dust = 1e-7;

    // What rounding leaves of a difference that is nothing: a page shows 0, the file every digit.
    private static Cell WithoutDust(Cell cell, double largest) => cell.Raw is double v && Math.Abs(v) < 1e-12 * largest ? 0.0 : cell;

    /// <summary>A table of texts that has no file.</summary>
    /// <param name="headings">Headings.</param>
    /// <param name="rows">Rows, as many cells as headings.</param>
    public static PageTable OfTexts(IEnumerable<string> headings, IEnumerable<string[]> rows)
    {
        ImmutableArray<ImmutableArray<string>> all = [.. rows.Select(r => r.ToImmutableArray())];
        return new(null, [.. headings.Select(h => new PageColumn(h, false))], all, all.Length);
    }
}
