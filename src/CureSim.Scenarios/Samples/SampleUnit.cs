using System.Collections.Immutable;
using UnitsNet;
using UnitsNet.Units;

namespace CureSim.Scenarios;

/// <summary>Unit of a column of measured values. Values of one kind convert into each other; values without a unit only into themselves.</summary>
public sealed class SampleUnit
{
    private static readonly Unit[] Stresses =
    [
        Plain("MPa", v => Pressure.From(v, PressureUnit.Megapascal).Pascals, "N/mm2", "N/mm^2"),
        Plain("kPa", v => Pressure.From(v, PressureUnit.Kilopascal).Pascals),
        Plain("Pa", v => v),
    ];

    private static readonly Unit[] Forces = [Plain("N", v => v), Plain("kN", v => Force.From(v, ForceUnit.Kilonewton).Newtons), Plain("mN", v => Force.From(v, ForceUnit.Millinewton).Newtons)];

    private static readonly Unit[] Masses = [Plain("g", v => Mass.From(v, MassUnit.Gram).Kilograms), Plain("mg", v => Mass.From(v, MassUnit.Milligram).Kilograms), Plain("kg", v => v)];

    // The kinds of scenario files, and those that only measurements have. Last: whether a value below zero makes sense.
    private static readonly (Dimension Dimension, bool Signed)[] Kinds =
    [
        (Dimension.Dose, false), (Dimension.Irradiance, false), (Dimension.Length, true), (Dimension.Time, false), (Dimension.Ratio, true), (Dimension.Angle, true),
        (Dimension.Attenuation, false), (new Dimension("stress", "a stress", "12 MPa", Stresses), false), (new Dimension("force", "a force", "180 N", Forces), false),
        (new Dimension("mass", "a mass", "40 mg", Masses), false),
    ];

    private readonly Dimension dimension;
    private readonly Unit? unit;

    private SampleUnit(Dimension dimension, Unit? unit, bool signed)
    {
        this.dimension = dimension;
        this.unit = unit;
        AllowsNegative = signed;
    }

    /// <summary>No unit.</summary>
    public static SampleUnit None { get; } = new(Dimension.Number, null, true);

    /// <summary>True for plain numbers.</summary>
    public bool IsNone => unit is null;

    /// <summary>The unit as it is shown, such as "J/cm²"; null without one.</summary>
    public string? Shown => unit?.Symbol.Replace("2", "²", StringComparison.Ordinal) is { } symbol ? (symbol == "um" ? "µm" : symbol) : null;

    /// <summary>The unit at the end of a machine header, such as "j_per_cm2"; empty without one.</summary>
    public string Suffix => unit is null ? "" : SuffixOf(unit.Symbol).ToLowerInvariant();

    /// <summary>Whether values below zero make sense.</summary>
    public bool AllowsNegative { get; }

    /// <summary>What the values are, with its article: "a dose".</summary>
    public string Kind => dimension.Name;

    /// <summary>All units that a column may have.</summary>
    public static string Listed { get; } = string.Join(", ", Kinds.SelectMany(k => k.Dimension.Units).Select(u => u.Symbol));

    /// <summary>Finds a unit by how it is written: "mJ/cm²", "mJ/cm2", "mj_per_cm2"; null when it is not known.</summary>
    public static SampleUnit? Find(string text)
    {
        string plain = Normal(text);
        return All().FirstOrDefault(u => u.unit!.Answers(plain)) ?? All().FirstOrDefault(u => IsSuffix(plain, u.unit!.Symbol));
    }

    /// <summary>The unit that a header such as "dose_j_per_cm2" ends in, and the header without it; null when it ends in none.</summary>
    public static (string Name, SampleUnit Unit)? AtEnd(string header) => Enumerable.Range(0, header.Length)
        .Where(i => i > 0 && header[i] == '_')
        .Select(i => (Name: header[..i], Unit: All().FirstOrDefault(u => IsSuffix(header[(i + 1)..], u.unit!.Symbol))))
        .Where(f => f.Unit is not null).Select(f => ((string, SampleUnit)?)(f.Name, f.Unit!)).FirstOrDefault();

    /// <summary>Reads a value such as "500 mJ/cm2" into this unit.</summary>
    /// <param name="text">Number and unit; the number alone where there is no unit.</param>
    /// <param name="value">In this unit.</param>
    /// <param name="problem">What was found and what is accepted; null when the value was read.</param>
    public bool TryRead(string text, out double value, out string? problem)
    {
        value = double.NaN;
        if (!ValueText.TryRead(text, dimension, WorkCalendar.Unknown, out ReadValue read, out string? suggestion) || read.PlusMinus)
        {
            problem = $"found \"{SampleText.Shown(text)}\"; accepted: {dimension.Accepted}{(suggestion is null ? "" : "; " + SampleText.OneLine(suggestion))}";
            return false;
        }

        problem = null;

        // A number written in the column's own unit is taken as it stands; a converted one loses the last digit or two of the arithmetic.
        value = unit is null || unit.ToSi(read.Number, WorkCalendar.Unknown) == read.Si ? read.Number : Tidy(read.Si / unit.ToSi(1.0, WorkCalendar.Unknown));
        return true;
    }

    /// <summary>How many of another unit one of this is; null when the other is of another kind or not known.</summary>
    public double? FactorTo(string symbol) =>
        unit is not null && dimension.Units.FirstOrDefault(u => u.Answers(symbol)) is { } other ? unit.ToSi(1.0, WorkCalendar.Unknown) / other.ToSi(1.0, WorkCalendar.Unknown) : null;

    private static double Tidy(double value) => double.Parse(
        value.ToString("E13", System.Globalization.CultureInfo.InvariantCulture), System.Globalization.CultureInfo.InvariantCulture);

    private static IEnumerable<SampleUnit> All() => Kinds.SelectMany(k => k.Dimension.Units.Select(u => new SampleUnit(k.Dimension, u, k.Signed)));

    // Lower case, or the unit's own letters: "mj_per_cm2", "mJ_per_cm2"; never "MJ_per_cm2", which is another unit.
    private static bool IsSuffix(string text, string symbol) => text == SuffixOf(symbol) || text == SuffixOf(symbol).ToLowerInvariant();

    private static string SuffixOf(string symbol) =>
        symbol.Replace("%", "percent", StringComparison.Ordinal).Replace("/", "_per_", StringComparison.Ordinal).TrimStart('_');

    private static string Normal(string text) => text.Trim().Replace('²', '2').Replace('\u00A0', ' ').Replace(" / ", "/", StringComparison.Ordinal);

    private static Unit Plain(string symbol, Func<double, double> toSi, params string[] spellings) => new(symbol, spellings, (v, _) => toSi(v));
}
