using System.Collections.Immutable;
using System.Globalization;

namespace CureSim.Reports.Tables;

/// <summary>A named table of typed cells: the one form from which the files, the page and the terminal are written.</summary>
public sealed class Table
{
    private readonly List<ImmutableArray<Cell>> _rows = [];

    /// <summary>Makes an empty table.</summary>
    /// <param name="name">Names the file, such as <c>capability</c>: lower case letters, digits, underscores and hyphens.</param>
    /// <param name="columns">At least one, each header once.</param>
    /// <exception cref="ArgumentException">A name or header that breaks the rules.</exception>
    public Table(string name, params IEnumerable<Column> columns)
    {
        ArgumentNullException.ThrowIfNull(name);
        ArgumentNullException.ThrowIfNull(columns);
        if (name.Length == 0 || name.Any(c => !char.IsAsciiLetterLower(c) && !char.IsAsciiDigit(c) && c is not ('_' or '-')))
        {
            throw new ArgumentException($"'{name}' is not a table name: lower case letters, digits, underscores and hyphens.");
        }

        Name = name;
        Columns = [.. columns];
        if (Columns.IsEmpty)
        {
            throw new ArgumentException($"Table '{name}' has no columns.");
        }

        if (Columns.GroupBy(c => c.Header, StringComparer.Ordinal).FirstOrDefault(g => g.Count() > 1) is { } twice)
        {
            throw new ArgumentException($"Table '{name}' has the column '{twice.Key}' twice.");
        }
    }

    /// <summary>Name of the table and of its file.</summary>
    public string Name { get; }

    /// <summary>The columns, left to right.</summary>
    public ImmutableArray<Column> Columns { get; }

    /// <summary>The rows, in the order they were added.</summary>
    public IReadOnlyList<ImmutableArray<Cell>> Rows => _rows;

    /// <summary>Adds a row; returns the table, so that calls can be chained.</summary>
    /// <exception cref="ArgumentException">The number of cells or the kind of one does not fit the columns.</exception>
    public Table Add(params ReadOnlySpan<Cell> cells)
    {
        if (cells.Length != Columns.Length)
        {
            throw new ArgumentException(string.Create(CultureInfo.InvariantCulture,
                $"Table '{Name}' has {Columns.Length} columns, row {_rows.Count + 1} has {cells.Length} cells."));
        }

        for (int i = 0; i < cells.Length; i++)
        {
            if (!Columns[i].Accepts(cells[i]))
            {
                throw new ArgumentException(string.Create(CultureInfo.InvariantCulture,
                    $"Table '{Name}', row {_rows.Count + 1}: '{Columns[i].Header}' holds {Columns[i].Kind}, not '{cells[i].Raw}'."));
            }
        }

        _rows.Add([.. cells]);
        return this;
    }
}
