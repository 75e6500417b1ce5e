namespace CureSim.Reports.Tables;

/// <summary>One cell: a whole number, a number, a text, or nothing.</summary>
public readonly struct Cell : IEquatable<Cell>
{
    private readonly object? _value;

    private Cell(object? value) => _value = value;

    /// <summary>An empty cell: the value does not exist (not: is zero).</summary>
    public static Cell Missing => default;

    /// <summary>True when there is no value.</summary>
    public bool IsMissing => _value is null;

    /// <summary>True for a whole or a real number.</summary>
    public bool IsNumber => _value is long or double;

    /// <summary>The number; null for a text or nothing.</summary>
    public double? Number => _value switch { long whole => whole, double number => number, _ => null };

    /// <summary>The value: <see cref="long"/>, <see cref="double"/>, <see cref="string"/> or null.</summary>
    public object? Raw => _value;

    /// <summary>A whole number.</summary>
    public static implicit operator Cell(long value) => new(value);

    /// <summary>A whole number.</summary>
    public static implicit operator Cell(int value) => new((long)value);

    /// <summary>A number in the unit of its column. Not a number and infinity are refused: leave the cell missing and say why beside it.</summary>
    public static implicit operator Cell(double value) => double.IsFinite(value)
        ? new(value)
        : throw new ArgumentOutOfRangeException(nameof(value), value, "A table cell holds finite numbers only.");

    /// <summary>A number, or a missing one.</summary>
    public static implicit operator Cell(double? value) => value is { } number ? number : Missing;

    /// <summary>A whole number, or a missing one.</summary>
    public static implicit operator Cell(long? value) => value is { } number ? number : Missing;

    /// <summary>A text, or a missing one.</summary>
    public static implicit operator Cell(string? value) => new(value);

    /// <inheritdoc />
    public bool Equals(Cell other) => Equals(_value, other._value);

    /// <inheritdoc />
    public override bool Equals(object? obj) => obj is Cell other && Equals(other);

    /// <inheritdoc />
    public override int GetHashCode() => _value?.GetHashCode() ?? 0;

    /// <summary>Equality of kind and value.</summary>
    public static bool operator ==(Cell left, Cell right) => left.Equals(right);

    /// <summary>Inequality of kind or value.</summary>
    public static bool operator !=(Cell left, Cell right) => !left.Equals(right);
}
