using System.Collections.Immutable;

namespace CureSim.Reports.Figures;

/// <summary>Something drawn in a figure.</summary>
public abstract record Layer;

/// <summary>A curve.</summary>
/// <param name="X">Abscissae, in the unit of the axis.</param>
/// <param name="Y">Ordinates; not-a-number breaks the line.</param>
/// <param name="Label">Stands at the line's end, in its colour; null for none.</param>
/// <param name="Tone">Its part.</param>
/// <param name="Stepped">True: a value holds until the next abscissa (counts, survival curves, drive settings).</param>
public sealed record Line(
    ImmutableArray<double> X, ImmutableArray<double> Y, string? Label = null, Tone Tone = Tone.First, bool Stepped = false) : Layer;

/// <summary>An interval along a curve: always a light band.</summary>
/// <param name="X">Abscissae, rising.</param>
/// <param name="Lower">Lower ends.</param>
/// <param name="Upper">Upper ends.</param>
/// <param name="Label">Stands at the band's end; null for none.</param>
/// <param name="Tone">Its part: that of the curve it belongs to.</param>
/// <param name="Stepped">True: a value holds until the next abscissa.</param>
public sealed record Band(
    ImmutableArray<double> X, ImmutableArray<double> Lower, ImmutableArray<double> Upper, string? Label = null, Tone Tone = Tone.First,
    bool Stepped = false) : Layer;

/// <summary>Bars of a histogram; they stand on zero.</summary>
/// <param name="Edges">Edges of the bins, rising; one more than heights.</param>
/// <param name="Heights">Heights, not below zero.</param>
/// <param name="Label">Stands beside the highest bar; null for none.</param>
/// <param name="Tone">Its part.</param>
/// <param name="OutlineOnly">True for the second of two histograms laid over one another.</param>
public sealed record Histogram(
    ImmutableArray<double> Edges, ImmutableArray<double> Heights, string? Label = null, Tone Tone = Tone.First, bool OutlineOnly = false) : Layer;

/// <summary>Shape of a mark; each tone has its own unless told.</summary>
public enum MarkShape
{
    /// <summary>By the tone.</summary>
    ByTone,

    /// <summary>Filled circle.</summary>
    Circle,

    /// <summary>Filled square.</summary>
    Square,

    /// <summary>Filled triangle.</summary>
    Triangle,

    /// <summary>Filled diamond.</summary>
    Diamond,

    /// <summary>Upright cross.</summary>
    Cross,
}

/// <summary>Single points: a scatter, readings of a log, estimates with their intervals.</summary>
/// <param name="X">Abscissae.</param>
/// <param name="Y">Ordinates.</param>
/// <param name="Label">Stands beside the last point; null for none.</param>
/// <param name="Tone">Its part.</param>
public sealed record Points(ImmutableArray<double> X, ImmutableArray<double> Y, string? Label = null, Tone Tone = Tone.First) : Layer
{
    /// <summary>Shape of every point.</summary>
    public MarkShape Shape { get; init; } = MarkShape.ByTone;

    /// <summary>Lower ends of the points' intervals; empty for none.</summary>
    public ImmutableArray<double> Lower { get; init; } = [];

    /// <summary>Upper ends of the points' intervals; empty for none.</summary>
    public ImmutableArray<double> Upper { get; init; } = [];

    /// <summary>A name beside each point; empty for none.</summary>
    public ImmutableArray<string> Names { get; init; } = [];
}

/// <summary>Areas stacked on zero, such as cost by part over the years.</summary>
/// <param name="X">Abscissae, rising.</param>
/// <param name="Areas">Bottom to top, at most five.</param>
public sealed record Stack(ImmutableArray<double> X, ImmutableArray<StackArea> Areas) : Layer;

/// <summary>One area of a stack.</summary>
/// <param name="Label">Stands at the right end.</param>
/// <param name="Heights">Its own heights, not below zero; one for each abscissa.</param>
public sealed record StackArea(string Label, ImmutableArray<double> Heights);
