using System.Collections.Immutable;

namespace CureSim.Reports.Figures;

/// <summary>A figure as data: one question, one plot area. How it looks is decided by the renderer alone; see docs/figures.md.</summary>
public sealed record Figure
{
    /// <summary>The question the figure answers, or its answer in one sentence.</summary>
    public required string Title { get; init; }

    /// <summary>What is shown, of how many, with which interval.</summary>
    public string? Subtitle { get; init; }

    /// <summary>A remark below the figure: source, method, caution.</summary>
    public string? Note { get; init; }

    /// <summary>Horizontal axis.</summary>
    public required Axis X { get; init; }

    /// <summary>Vertical axis.</summary>
    public required Axis Y { get; init; }

    /// <summary>What is drawn, back to front within each kind.</summary>
    public required ImmutableArray<Layer> Layers { get; init; }

    /// <summary>Width in drawing units of 1/96 inch; a PNG has <see cref="Rendering.FigureRenderer.PixelsPerUnit"/> pixels for each.</summary>
    public int Width { get; init; } = 800;

    /// <summary>Height in drawing units of 1/96 inch.</summary>
    public int Height { get; init; } = 500;
}
