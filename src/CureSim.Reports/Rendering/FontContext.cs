using OxyPlot;
using OxyPlot.SkiaSharp;
using SkiaSharp;

namespace CureSim.Reports.Rendering;

/// <summary>Draws on a Skia canvas, text in the shipped font only. Also measures text for SVG.</summary>
/// <remarks>The base class looks fonts up on the machine and has no hook for it, so its text methods are implemented anew.</remarks>
internal sealed class FontContext : SkiaRenderContext, IRenderContext
{
    /// <inheritdoc cref="IRenderContext.MeasureText" />
    public new OxySize MeasureText(string text, string? fontFamily = null, double fontSize = 10, double fontWeight = 400)
    {
        if (string.IsNullOrEmpty(text))
        {
            return OxySize.Empty;
        }

        using SKFont font = ShippedFont.At(fontSize, fontWeight);
        string[] lines = text.Split('\n');
        return new OxySize(lines.Max(line => font.MeasureText(line)), lines.Length * LineHeight(font));
    }

    /// <inheritdoc cref="IRenderContext.DrawText" />
    public new void DrawText(
        ScreenPoint p,
        string text,
        OxyColor fill,
        string? fontFamily = null,
        double fontSize = 10,
        double fontWeight = 400,
        double rotation = 0,
        HorizontalAlignment horizontalAlignment = HorizontalAlignment.Left,
        VerticalAlignment verticalAlignment = VerticalAlignment.Top,
        OxySize? maxSize = null)
    {
        if (string.IsNullOrEmpty(text) || !fill.IsVisible())
        {
            return;
        }

        using SKFont font = ShippedFont.At(fontSize * DpiScale, fontWeight);
        using var paint = new SKPaint { Color = fill.ToSKColor(), IsAntialias = true };
        string[] lines = text.Split('\n');
        double lineHeight = LineHeight(font);
        double height = lines.Length * lineHeight;
        double top = verticalAlignment switch
        {
            VerticalAlignment.Top => 0,
            VerticalAlignment.Middle => -height / 2,
            _ => -height,
        };

        using var restore = new SKAutoCanvasRestore(SkCanvas);
        SkCanvas.Translate((float)(p.X * DpiScale), (float)(p.Y * DpiScale));
        SkCanvas.RotateDegrees((float)rotation);
        for (int i = 0; i < lines.Length; i++)
        {
            double width = font.MeasureText(lines[i]);
            double left = horizontalAlignment switch
            {
                HorizontalAlignment.Left => 0,
                HorizontalAlignment.Center => -width / 2,
                _ => -width,
            };
            SkCanvas.DrawText(lines[i], (float)left, (float)(top + (i * lineHeight) - font.Metrics.Ascent), font, paint);
        }
    }

    /// <inheritdoc cref="IRenderContext.DrawLine" />
    /// <remarks>The base class takes dashes in multiples of the line's thickness; here, as in SVG, they are lengths.</remarks>
    public new void DrawLine(
        IList<ScreenPoint> points, OxyColor stroke, double thickness, EdgeRenderingMode edgeRenderingMode, double[]? dashArray = null,
        LineJoin lineJoin = LineJoin.Miter) =>
        base.DrawLine(points, stroke, thickness, edgeRenderingMode, dashArray?.Select(d => d / (thickness * DpiScale)).ToArray(), lineJoin);

    private static double LineHeight(SKFont font) => font.Metrics.Descent - font.Metrics.Ascent;
}
