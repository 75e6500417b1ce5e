using OxyPlot;

namespace CureSim.Reports.Rendering;

/// <summary>Draws nothing: lets the plot lay itself out, so that the places of its axes are known before anything is drawn.</summary>
internal sealed class MeasuringContext(IRenderContext measurer) : ClippingRenderContext
{
    public override OxySize MeasureText(string text, string fontFamily, double fontSize, double fontWeight) =>
        measurer.MeasureText(text, fontFamily, fontSize, fontWeight);

    public override void DrawLine(
        IList<ScreenPoint> points, OxyColor stroke, double thickness, EdgeRenderingMode edgeRenderingMode, double[] dashArray, LineJoin lineJoin)
    {
    }

    public override void DrawPolygon(
        IList<ScreenPoint> points, OxyColor fill, OxyColor stroke, double thickness, EdgeRenderingMode edgeRenderingMode, double[] dashArray,
        LineJoin lineJoin)
    {
    }

    public override void DrawText(
        ScreenPoint p, string text, OxyColor fill, string fontFamily, double fontSize, double fontWeight, double rotation,
        HorizontalAlignment horizontalAlignment, VerticalAlignment verticalAlignment, OxySize? maxSize)
    {
    }

    protected override void ResetClip()
    {
    }

    protected override void SetClip(OxyRect clippingRectangle)
    {
    }
}
