using CureSim.Reports.Figures;
using OxyPlot;

namespace CureSim.Reports.Rendering;

/// <summary>Draws horizontal bars with their values at the end.</summary>
internal static class BarsPainter
{
    private const EdgeRenderingMode Exact = EdgeRenderingMode.PreferGeometricAccuracy;
    private const double TextGap = 7;
    private const double Thickness = 0.62;
    private const double Thickest = 26;

    /// <summary>The upper end of the axis at which every value's text fits beside its bar.</summary>
    /// <param name="rc">Measures.</param>
    /// <param name="bars">The bars.</param>
    /// <param name="range">Ends of the axis by the data.</param>
    /// <param name="width">Width of the plot area, drawing units.</param>
    public static Extent MakeRoom(IRenderContext rc, Bars bars, Extent range, double width)
    {
        double to = range.To;
        double from = range.From;
        foreach (Bar bar in bars.Rows.OrderBy(b => Left(b) ? 0 : 1)) // room at the left first: the other end then counts with it
        {
            double text = Text(rc, bar).Width + TextGap + (Left(bar) ? 12 : 4);
            if (width <= text * 1.5)
            {
                continue;
            }

            if (Left(bar))
            {
                from = Math.Min(from, to - ((to - End(bar)) * width / (width - text)));
            }
            else
            {
                to = Math.Max(to, from + ((End(bar) - from) * width / (width - text)));
            }
        }

        return new Extent(from, to);
    }

    /// <summary>Draws the bars, intervals and values.</summary>
    public static void Draw(IRenderContext rc, PlotFrame frame, Bars bars)
    {
        double half = Math.Min(Thickest, Thickness * Math.Abs(frame.Y(1) - frame.Y(0))) / 2;
        for (int i = 0; i < bars.Rows.Length; i++)
        {
            Bar bar = bars.Rows[i];
            double middle = frame.Y(i);
            double a = frame.X(bar.From);
            double b = frame.X(bar.To);
            rc.DrawRectangle(new OxyRect(Math.Min(a, b), middle - half, Math.Abs(b - a), 2 * half), Palette.Fill(bar.Tone), OxyColors.Undefined, 0, Exact);
            if (bar.From != 0 && i > 0)
            {
                // The chain: this bar begins where the one above it ended.
                rc.DrawLine([new(a, frame.Y(i - 1) + half), new(a, middle - half)], Palette.AxisLine, 1, Exact, [2, 2], LineJoin.Miter);
            }

            if (bar.Lower is { } lower && bar.Upper is { } upper)
            {
                double l = frame.X(lower);
                double u = frame.X(upper);
                rc.DrawLine([new(l, middle), new(u, middle)], Palette.Ink, 1.4, Exact, null, LineJoin.Miter);
                rc.DrawLine([new(l, middle - 4), new(l, middle + 4)], Palette.Ink, 1.4, Exact, null, LineJoin.Miter);
                rc.DrawLine([new(u, middle - 4), new(u, middle + 4)], Palette.Ink, 1.4, Exact, null, LineJoin.Miter);
            }

            double at = frame.X(End(bar));
            bool left = Left(bar);
            Text(rc, bar).Draw(rc, left ? at - TextGap : at + TextGap, middle, Palette.Ink, left ? HorizontalAlignment.Right : HorizontalAlignment.Left,
                VerticalAlignment.Middle);
        }

        double zero = frame.X(0);
        if (zero > frame.Area.Left - 1 && zero < frame.Area.Right)
        {
            rc.DrawLine([new(zero, frame.Area.Top), new(zero, frame.Area.Bottom)], Palette.AxisLine, 1, Exact, null, LineJoin.Miter);
        }
    }

    private static TextBlock Text(IRenderContext rc, Bar bar) => TextBlock.Wrap(rc, bar.ValueText, Style.LabelSize, Style.Regular, Style.WidestColumn, 1);

    private static bool Left(Bar bar) => bar.From == 0 && bar.To < 0;

    /// <summary>Where the text begins: past the bar and its interval.</summary>
    private static double End(Bar bar) => Left(bar)
        ? Math.Min(Math.Min(bar.From, bar.To), bar.Lower ?? double.PositiveInfinity)
        : Math.Max(Math.Max(bar.From, bar.To), bar.Upper ?? double.NegativeInfinity);
}
