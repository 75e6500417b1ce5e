using CureSim.Reports.Figures;
using OxyPlot;
using OxyPlot.SkiaSharp;
using SkiaSharp;

namespace CureSim.Reports.Rendering;

/// <summary>Figures as files. The same figure gives the same bytes each time, with whatever fonts the machine has or lacks.</summary>
public static class FigureRenderer
{
    /// <summary>Pixels of a PNG for each drawing unit of 1/96 inch.</summary>
    public const int PixelsPerUnit = 2;

    private const float PointsPerUnit = 0.75f; // 72 points and 96 drawing units make an inch

    /// <summary>The figure as a PNG file, twice as many pixels as drawing units.</summary>
    /// <exception cref="ArgumentException">The figure breaks a rule of <see cref="FigureRules"/>.</exception>
    public static byte[] Png(Figure figure)
    {
        FigureRules.Check(figure);
        using var bitmap = new SKBitmap(new SKImageInfo(
            figure.Width * PixelsPerUnit, figure.Height * PixelsPerUnit, SKColorType.Rgba8888, SKAlphaType.Premul));
        using var canvas = new SKCanvas(bitmap);
        using var context = new FontContext { SkCanvas = canvas, DpiScale = PixelsPerUnit, RenderTarget = RenderTarget.PixelGraphic };
        FigurePainter.Draw(context, figure);
        canvas.Flush();
        using SKData png = bitmap.Encode(SKEncodedImageFormat.Png, 100);
        return png.ToArray();
    }

    /// <summary>The figure as SVG text: a file of its own, and fit to stand inside an HTML page beside others.</summary>
    /// <exception cref="ArgumentException">The figure breaks a rule of <see cref="FigureRules"/>.</exception>
    public static string Svg(Figure figure)
    {
        FigureRules.Check(figure);
        using var measurer = new FontContext();
        using var bytes = new MemoryStream();
        var context = new SvgRenderContext(bytes, figure.Width, figure.Height, false, measurer, OxyColors.Undefined, true);
        FigurePainter.Draw(context, figure);
        context.Complete();
        context.Flush();
        return SvgFinish.Of(bytes.ToArray(), figure);
    }

    /// <summary>The figure as an SVG element of a page: no style attributes (a strict page forbids them), and the ends of its axes as data for a readout.</summary>
    /// <param name="figure">The figure.</param>
    /// <param name="tag">Begins its identifiers; different for each figure of a page.</param>
    /// <exception cref="ArgumentException">The figure breaks a rule of <see cref="FigureRules"/>.</exception>
    internal static string PageSvg(Figure figure, string tag)
    {
        FigureRules.Check(figure);
        using var measurer = new FontContext();
        using var bytes = new MemoryStream();
        var context = new SvgRenderContext(bytes, figure.Width, figure.Height, false, measurer, OxyColors.Undefined, true);
        PlotFrame frame = FigurePainter.Draw(context, figure);
        context.Complete();
        context.Flush();
        return SvgFinish.ForPage(bytes.ToArray(), figure, tag, frame);
    }

    /// <summary>Draws the figure on a canvas whose origin is its upper left corner.</summary>
    /// <param name="canvas">The canvas.</param>
    /// <param name="figure">The figure.</param>
    /// <param name="scale">Canvas units for each drawing unit.</param>
    internal static void DrawOn(SKCanvas canvas, Figure figure, float scale)
    {
        FigureRules.Check(figure);
        using var context = new FontContext { SkCanvas = canvas, DpiScale = scale, RenderTarget = RenderTarget.VectorGraphic };
        FigurePainter.Draw(context, figure);
    }

    /// <summary>The figure as a PDF page with the font embedded.</summary>
    /// <exception cref="ArgumentException">The figure breaks a rule of <see cref="FigureRules"/>.</exception>
    public static byte[] Pdf(Figure figure)
    {
        FigureRules.Check(figure);
        using var bytes = new MemoryStream();
        using (SKDocument document = SKDocument.CreatePdf(bytes))
        {
            SKCanvas canvas = document.BeginPage(figure.Width * PointsPerUnit, figure.Height * PointsPerUnit);
            using var context = new FontContext { SkCanvas = canvas, DpiScale = PointsPerUnit, RenderTarget = RenderTarget.VectorGraphic };
            FigurePainter.Draw(context, figure);
            document.EndPage();
            document.Close();
        }

        return bytes.ToArray();
    }
}
