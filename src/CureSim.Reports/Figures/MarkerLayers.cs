using System.Collections.Immutable;

namespace CureSim.Reports.Figures;

/// <summary>Which axis a line crosses.</summary>
public enum Along
{
    /// <summary>A value of X: the line is vertical.</summary>
    X,

    /// <summary>A value of Y: the line is horizontal.</summary>
    Y,
}

/// <summary>A specification or action limit, a requirement: drawn the same way in every figure and labelled directly.</summary>
/// <param name="Axis">The axis the value is on.</param>
/// <param name="Value">In the unit of the axis.</param>
/// <param name="Label">Such as "lower limit 5 J/cm²".</param>
public sealed record Limit(Along Axis, double Value, string Label) : Layer;

/// <summary>A target or nominal value.</summary>
/// <param name="Axis">The axis the value is on.</param>
/// <param name="Value">In the unit of the axis.</param>
/// <param name="Label">Such as "target".</param>
public sealed record Target(Along Axis, double Value, string Label) : Layer;

/// <summary>Percentiles of what is shown along X: thin vertical lines with their names on top.</summary>
public sealed record Percentiles(ImmutableArray<NamedValue> Values) : Layer;

/// <summary>A value with a name.</summary>
/// <param name="Label">Such as "5 %".</param>
/// <param name="Value">In the unit of the axis.</param>
public sealed record NamedValue(string Label, double Value);

/// <summary>Moments at which something happened (checks, replacements), as ticks in a row of their own above the plot.</summary>
/// <param name="X">Where, in the unit of X.</param>
/// <param name="Label">What, named at the row's end.</param>
/// <param name="Tone">Its part.</param>
public sealed record Events(ImmutableArray<double> X, string Label, Tone Tone = Tone.Ink) : Layer;

/// <summary>A region, such as the recommended settings.</summary>
/// <param name="FromX">Left.</param>
/// <param name="ToX">Right.</param>
/// <param name="FromY">Bottom.</param>
/// <param name="ToY">Top.</param>
/// <param name="Label">Inside, top left; null for none.</param>
/// <param name="Tone">Its part.</param>
public sealed record Region(double FromX, double ToX, double FromY, double ToY, string? Label = null, Tone Tone = Tone.Ink) : Layer;

/// <summary>Horizontal bars with their values: shares of variance, a light budget, a breakdown of cost. They name the Y axis themselves.</summary>
/// <param name="Rows">Top to bottom.</param>
public sealed record Bars(ImmutableArray<Bar> Rows) : Layer;

/// <summary>One bar.</summary>
/// <param name="Name">What it is.</param>
/// <param name="To">Its end, in the unit of X.</param>
/// <param name="ValueText">Its value as text, beside its end.</param>
public sealed record Bar(string Name, double To, string ValueText)
{
    /// <summary>Where the bar begins: zero, or the end of the bar above it in a chain of losses and gains.</summary>
    public double From { get; init; }

    /// <summary>Lower end of the value's interval.</summary>
    public double? Lower { get; init; }

    /// <summary>Upper end of the value's interval.</summary>
    public double? Upper { get; init; }

    /// <summary>Its part: <see cref="Tone.First"/> for values, <see cref="Tone.Second"/> for losses, <see cref="Tone.Ink"/> for totals.</summary>
    public Tone Tone { get; init; } = Tone.First;
}

/// <summary>A map over X and Y in steps of colour, with labelled contours between the steps.</summary>
/// <param name="X">Abscissae of the nodes, rising.</param>
/// <param name="Y">Ordinates of the nodes, rising.</param>
/// <param name="Values">Value at (X[i], Y[j]) in place i·Y.Length + j; not-a-number leaves its surroundings blank. Between nodes it is
/// interpolated straight: give the logarithm of values that span decades, such as ppm, and say the value itself in the contours' labels.</param>
/// <param name="Contours">Rising values at which the colour steps; 1 to 9.</param>
public sealed record Map(
    ImmutableArray<double> X, ImmutableArray<double> Y, ImmutableArray<double> Values, ImmutableArray<NamedValue> Contours) : Layer
{
    /// <summary>A second field on the same nodes, empty for none: the smaller of both is shown (the larger when <see cref="LowIsGood"/>).
    /// Each is interpolated on its own, so the crest where two one-sided capabilities meet stays sharp between the nodes.</summary>
    public ImmutableArray<double> OtherSide { get; init; } = [];

    /// <summary>The contour that is a requirement, drawn as a limit; one of <see cref="Contours"/> by value, or null.</summary>
    public double? Requirement { get; init; }

    /// <summary>True when small values are the good ones, so that dark always means good.</summary>
    public bool LowIsGood { get; init; }
}
