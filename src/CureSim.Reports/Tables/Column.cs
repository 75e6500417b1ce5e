using System.Globalization;
using CureSim.Reports.Text;

namespace CureSim.Reports.Tables;

/// <summary>What a column holds.</summary>
public enum ColumnKind
{
    /// <summary>Whole numbers.</summary>
    Whole,

    /// <summary>Numbers in the unit that the header names.</summary>
    Number,

    /// <summary>Text.</summary>
    Text,
}

/// <summary>A column of a table.</summary>
public sealed record Column
{
    /// <summary>Makes a column.</summary>
    /// <param name="header">The name in machine files: lower case letters, digits and underscores, unit at the end, such as
    /// <c>dose_j_per_cm2</c>.</param>
    /// <param name="kind">What its cells hold.</param>
    /// <param name="heading">What people read above the column, such as "Dose, J/cm²"; the header unless given.</param>
    /// <param name="decimals">Decimals people are shown; four significant digits unless given. Machine files carry every digit.</param>
    /// <exception cref="ArgumentException">The header breaks the rule above.</exception>
    public Column(string header, ColumnKind kind, string? heading = null, int? decimals = null)
    {
        ArgumentNullException.ThrowIfNull(header);
        if (header.Length == 0 || !char.IsAsciiLetterLower(header[0])
            || header.Any(c => !char.IsAsciiLetterLower(c) && !char.IsAsciiDigit(c) && c != '_'))
        {
            throw new ArgumentException($"'{header}' is not a column header: lower case letters, digits and underscores, a letter first.");
        }

        Header = header;
        Kind = kind;
        Heading = heading ?? header;
        Decimals = decimals;
    }

    /// <summary>Name in machine files, with its unit.</summary>
    public string Header { get; }

    /// <summary>What the cells hold.</summary>
    public ColumnKind Kind { get; }

    /// <summary>Name for people.</summary>
    public string Heading { get; }

    /// <summary>Decimals for people; null: four significant digits.</summary>
    public int? Decimals { get; }

    internal bool Accepts(Cell cell) => cell.Raw switch
    {
        null => true,
        long => Kind is ColumnKind.Whole or ColumnKind.Number,
        double => Kind == ColumnKind.Number,
        _ => Kind == ColumnKind.Text,
    };

    /// <summary>The cell as people read it; a dash where there is no value.</summary>
    internal string Show(Cell cell) => cell.Raw switch
    {
        null => "–",
        long whole when Kind == ColumnKind.Whole => Format.Count(whole),
        long whole => ShowNumber(whole),
        double number => ShowNumber(number),
        var text => PlainText.OneLine(Convert.ToString(text, CultureInfo.InvariantCulture)!),
    };

    private string ShowNumber(double number) => Decimals is { } decimals ? Format.Fixed(number, decimals) : Format.Value(number);
}
