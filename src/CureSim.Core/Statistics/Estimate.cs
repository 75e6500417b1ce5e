using System.Globalization;

namespace CureSim.Core.Statistics;

/// <summary>A figure with its 95 % interval and what it rests on, or the reason why there is none.</summary>
/// <remarks>
/// Either <see cref="Value"/> is a finite number or <see cref="Withheld"/> says why not; a withheld figure may still carry a limit
/// (a median that was not reached has a lower limit). Not-a-number is refused when the record is made, so it is never passed on silently.
/// </remarks>
public sealed record Estimate
{
    private Estimate()
    {
    }

    /// <summary>The figure; null when it is withheld.</summary>
    public double? Value { get; private init; }

    /// <summary>Standard error, in the unit of the value; null when none is stated.</summary>
    public double? StandardError { get; private init; }

    /// <summary>Lower limit of the two-sided 95 % interval; null when there is none.</summary>
    public double? Lower95 { get; private init; }

    /// <summary>Upper limit of the two-sided 95 % interval; null when there is none.</summary>
    public double? Upper95 { get; private init; }

    /// <summary>Why no figure is given; null when one is.</summary>
    public string? Withheld { get; private init; }

    /// <summary>How many independent observations the figure rests on; null when that does not apply.</summary>
    public long? Count { get; private init; }

    /// <summary>How many observations would be enough for what is withheld; null when that cannot be told, or nothing is withheld.</summary>
    public long? Enough { get; private init; }

    /// <summary>Half the length of the 95 % interval; null when it has not both ends.</summary>
    public double? HalfWidth95 => Value is not null && Lower95 is { } lower && Upper95 is { } upper ? (upper - lower) / 2.0 : null;

    /// <summary>Value ± 1.96 standard errors (normal interval).</summary>
    public static Estimate Of(double value, double standardError, long? count = null)
    {
        double half = 1.9599639845400542 * Required(standardError, nameof(standardError));
        return Bounded(value, standardError, value - half, value + half, count);
    }

    /// <summary>A value with an interval that another method gave.</summary>
    public static Estimate Bounded(double value, double? standardError, double? lower95, double? upper95, long? count = null)
    {
        if (standardError < 0.0)
        {
            throw new ArgumentOutOfRangeException(nameof(standardError), standardError, "A standard error is not negative.");
        }

        return new Estimate
        {
            Value = Required(value, nameof(value)),
            StandardError = Optional(standardError, nameof(standardError)),
            Lower95 = Optional(lower95, nameof(lower95)),
            Upper95 = Optional(upper95, nameof(upper95)),
            Count = count,
        };
    }

    /// <summary>A number known without sampling error.</summary>
    public static Estimate Exact(double value, long? count = null) => Bounded(value, 0.0, value, value, count);

    /// <summary>No figure, and why; limits that hold nevertheless may be given.</summary>
    public static Estimate Withhold(string reason, long? count = null, double? lower95 = null, double? upper95 = null, long? enough = null)
    {
        ArgumentException.ThrowIfNullOrWhiteSpace(reason);
        return new Estimate
        {
            Withheld = reason, Count = count, Lower95 = Optional(lower95, nameof(lower95)), Upper95 = Optional(upper95, nameof(upper95)), Enough = enough,
        };
    }

    /// <summary>The figure.</summary>
    /// <exception cref="InvalidOperationException">It is withheld; the message is the reason.</exception>
    public double Get() => Value ?? throw new InvalidOperationException("No figure: " + Withheld);

    /// <summary>The same estimate in another unit: value, error and limits times a factor &gt; 0.</summary>
    public Estimate Scale(double factor)
    {
        if (!(factor > 0.0))
        {
            throw new ArgumentOutOfRangeException(nameof(factor), factor, "A factor above zero is needed.");
        }

        return this with { Value = Value * factor, StandardError = StandardError * factor, Lower95 = Lower95 * factor, Upper95 = Upper95 * factor };
    }

    /// <summary>"value [lower, upper]" or "withheld: reason", culture-invariant.</summary>
    public override string ToString()
    {
        string Print(double? x) => x is double v ? v.ToString("G6", CultureInfo.InvariantCulture) : "none";
        string limits = Lower95 is null && Upper95 is null ? string.Empty : $" [{Print(Lower95)}, {Print(Upper95)}]";
        return Withheld is null ? Print(Value) + limits : $"withheld: {Withheld}{limits}";
    }

    private static double Required(double x, string name) =>
        double.IsFinite(x) ? x : throw new ArgumentOutOfRangeException(name, x, "A finite number is needed; withhold the figure instead.");

    private static double? Optional(double? x, string name) =>
        x is double v && !double.IsFinite(v) ? throw new ArgumentOutOfRangeException(name, v, "A finite number or nothing is needed.") : x;
}
