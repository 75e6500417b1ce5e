using OxyPlot;

namespace CureSim.Reports.Rendering;

/// <summary>How a line with a meaning of its own is drawn, alike in every figure and direction.</summary>
internal sealed record Stroke(OxyColor Line, OxyColor Text, double Width, double[]? Dash)
{
    /// <summary>A limit or requirement: vermilion, long dashes.</summary>
    public static readonly Stroke Limit = new(Palette.Limit, Palette.LimitText, Style.LimitWidth, [11, 5]);

    /// <summary>A target: ink, dash and dot.</summary>
    public static readonly Stroke Target = new(Palette.Ink, Palette.Ink, Style.TargetWidth, [11, 3, 2, 3]);

    /// <summary>A percentile: grey, dots.</summary>
    public static readonly Stroke Marker = new(Palette.SecondText, Palette.SecondText, Style.MarkerWidth, [2, 3]);

    /// <summary>Draws it between two places.</summary>
    public void Draw(IRenderContext rc, params ScreenPoint[] points) =>
        rc.DrawLine(points, Line, Width, EdgeRenderingMode.PreferGeometricAccuracy, Dash, LineJoin.Round);
}
