using System.Collections.Immutable;

namespace CureSim.Reports.Figures;

/// <summary>How an axis maps values to lengths.</summary>
public enum AxisScale
{
    /// <summary>Equal lengths for equal differences.</summary>
    Linear,

    /// <summary>Equal lengths for equal ratios; values must be above zero.</summary>
    Logarithmic,
}

/// <summary>An axis: what is measured along it, in which unit.</summary>
/// <param name="Label">The quantity, such as "Dose".</param>
/// <param name="Unit">Its unit, such as "J/cm²"; null for a plain number. Shown as "Dose in J/cm²".</param>
public sealed record Axis(string Label, string? Unit = null)
{
    /// <summary>Linear unless told.</summary>
    public AxisScale Scale { get; init; } = AxisScale.Linear;

    /// <summary>Lower end; chosen from the data when null.</summary>
    public double? From { get; init; }

    /// <summary>Upper end; chosen from the data when null.</summary>
    public double? To { get; init; }

    /// <summary>True: labels stand at whole numbers only.</summary>
    public bool WholeNumbers { get; init; }

    /// <summary>True: zero is always part of a linear axis.</summary>
    public bool FromZero { get; init; }

    /// <summary>Names at 0, 1, 2 … instead of numbers, such as candidate intervals; empty for a numeric axis.</summary>
    public ImmutableArray<string> Names { get; init; } = [];

    /// <summary>The axis title as drawn.</summary>
    public string Title => string.IsNullOrEmpty(Unit) ? Label : $"{Label} in {Unit}";
}
