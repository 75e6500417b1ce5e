using CureSim.Reports.Figures;
using OxyPlot;

namespace CureSim.Reports.Rendering;

/// <summary>Draws a figure on any context: header, plot, labels, note. The same drawing serves PNG, SVG and PDF.</summary>
internal static class FigurePainter
{
    private const int NarrowBelow = 600; // drawing units

    /// <summary>Lines that run along the edge of the plot keep their full width.</summary>
    private const double EdgeBleed = 1.5;

    /// <summary>Draws the figure; the context also measures its text. Returns where its axes lie.</summary>
    public static PlotFrame Draw(IRenderContext rc, Figure figure)
    {
        rc.DrawRectangle(new OxyRect(0, 0, figure.Width, figure.Height), Palette.Paper, OxyColors.Undefined, 0, EdgeRenderingMode.PreferGeometricAccuracy);
        double left = Style.Edge;
        double right = figure.Width - Style.Edge;
        double top = DrawHeader(rc, figure, left, right);
        double bottom = DrawFooter(rc, figure, left, right);

        SideLabels side = SideLabels.Of(rc, figure);
        var above = new TopLabels(rc, figure, left, right);
        Extent xRange = AxisRange.OfX(figure);
        Bars? bars = figure.Layers.OfType<Bars>().FirstOrDefault();

        // First without drawing: how high the labels above the plot become depends on where the axes put their values.
        OxyRect Room() => new(left, top + above.Room, figure.Width - side.Room - left, bottom - top - above.Room);
        PlotFrame frame = PlotFrame.Draw(new MeasuringContext(rc), figure, Room(), xRange);
        if (bars is not null && figure.X.To is null)
        {
            xRange = BarsPainter.MakeRoom(rc, bars, xRange, frame.Area.Width);
            frame = PlotFrame.Draw(new MeasuringContext(rc), figure, Room(), xRange);
        }

        above.Arrange(frame);
        frame = PlotFrame.Draw(rc, figure, Room(), xRange);
        rc.PushClip(frame.Area.Inflate(EdgeBleed, EdgeBleed));
        var layers = new LayerPainter(rc, frame);
        layers.Draw(figure.Layers);
        rc.PopClip();
        if (bars is not null)
        {
            BarsPainter.Draw(rc, frame, bars);
        }

        rc.DrawLine([new(frame.Area.Left, frame.Area.Bottom), new(frame.Area.Right, frame.Area.Bottom)], Palette.AxisLine, 1, EdgeRenderingMode.PreferSharpness,
            null, LineJoin.Miter);
        above.Draw(rc, frame);
        side.Draw(rc, frame);
        layers.DrawNames(figure.Layers);
        TextBlock title = TextBlock.Wrap(rc, figure.X.Title, Style.LabelSize, Style.Regular, figure.Width < NarrowBelow ? figure.Width - (2 * Style.Edge) : frame.Area.Width, 1);
        double half = title.Width / 2;
        title.Draw(rc, Math.Clamp(frame.Area.Center.X, Style.Edge + half, Math.Max(Style.Edge + half, figure.Width - Style.Edge - half)), bottom + 2, Palette.SecondText, HorizontalAlignment.Center, VerticalAlignment.Top);
        return frame;
    }

    // The same words need more lines on a narrow drawing.
    private static int Lines(Figure figure) => figure.Width < NarrowBelow ? 5 : 2;

    private static double DrawHeader(IRenderContext rc, Figure figure, double left, double right)
    {
        double top = Style.Edge - 4;
        TextBlock title = TextBlock.Wrap(rc, figure.Title, Style.TitleSize, Style.SemiBold, right - left, 2);
        title.Draw(rc, left, top, Palette.Ink, HorizontalAlignment.Left, VerticalAlignment.Top);
        top += title.Height + 4;
        if (figure.Subtitle is { } text)
        {
            TextBlock subtitle = TextBlock.Wrap(rc, text, Style.SubtitleSize, Style.Regular, right - left, Lines(figure));
            subtitle.Draw(rc, left, top, Palette.SecondText, HorizontalAlignment.Left, VerticalAlignment.Top);
            top += subtitle.Height + 4;
        }

        return top + 3;
    }

    /// <summary>Draws the note; returns where the title of the horizontal axis begins.</summary>
    private static double DrawFooter(IRenderContext rc, Figure figure, double left, double right)
    {
        double bottom = figure.Height - Style.Edge + 6;
        if (figure.Note is { } text)
        {
            TextBlock note = TextBlock.Wrap(rc, text, Style.NoteSize, Style.Regular, right - left, Lines(figure));
            note.Draw(rc, left, bottom, Palette.SecondText, HorizontalAlignment.Left, VerticalAlignment.Bottom);
            bottom -= note.Height + 6;
        }

        return bottom - (Style.LabelSize * Style.LineGap) - 4;
    }
}
