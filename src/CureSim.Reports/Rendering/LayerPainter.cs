using System.Collections.Immutable;
using CureSim.Reports.Figures;
using OxyPlot;

namespace CureSim.Reports.Rendering;

/// <summary>Draws the layers of a figure inside the plot area, back to front.</summary>
internal sealed class LayerPainter(IRenderContext rc, PlotFrame frame)
{
    private const EdgeRenderingMode Exact = EdgeRenderingMode.PreferGeometricAccuracy;

    /// <summary>Draws all layers; labels around the plot are drawn elsewhere.</summary>
    public void Draw(IReadOnlyList<Layer> layers)
    {
        foreach (Layer layer in layers.OrderBy(Depth))
        {
            switch (layer)
            {
                case Map map:
                    new MapPainter(rc, frame).Draw(map, layers.OfType<Region>().SelectMany(new RegionPainter(rc, frame).Kept)
                        .Concat(layers.OfType<Points>().SelectMany(new PointsPainter(rc, frame).Kept)));
                    break;
                case Stack stack:
                    DrawStack(stack);
                    break;
                case Region region:
                    new RegionPainter(rc, frame).Draw(region, overMap: layers.Any(l => l is Map));
                    break;
                case Band band:
                    DrawBand(band);
                    break;
                case Histogram histogram:
                    DrawHistogram(histogram);
                    break;
                case Line line:
                    DrawLine(line);
                    break;
                case Points points:
                    new PointsPainter(rc, frame).Draw(points);
                    break;
                case Limit { Axis: Along.Y } limit:
                    DrawAcross(Stroke.Limit, limit.Value);
                    break;
                case Target { Axis: Along.Y } target:
                    DrawAcross(Stroke.Target, target.Value);
                    break;
            }
        }
    }

    /// <summary>Draws names that stand inside the plot, over everything else.</summary>
    public void DrawNames(IEnumerable<Layer> layers)
    {
        foreach (Histogram histogram in layers.OfType<Histogram>())
        {
            if (histogram.Label is { } label)
            {
                DrawName(histogram, label);
            }
        }
    }

    /// <summary>Wide things first, so that nothing narrow is hidden.</summary>
    private static int Depth(Layer layer) => layer switch
    {
        Map => 0,
        Stack => 1,
        Band => 2,
        Histogram => 3,
        Region => 4,
        Line { Tone: Tone.Quiet } or Points { Tone: Tone.Quiet } => 5,
        Line => 6,
        Target => 7,
        Limit => 8,
        _ => 9,
    };

    private void DrawAcross(Stroke stroke, double value) =>
        stroke.Draw(rc, new ScreenPoint(frame.Area.Left, frame.Y(value)), new ScreenPoint(frame.Area.Right, frame.Y(value)));

    private void DrawLine(Line line)
    {
        double width = line.Tone == Tone.Quiet ? Style.QuietLineWidth : Style.LineWidth;
        List<ScreenPoint> run = [];
        for (int i = 0; i <= line.X.Length; i++)
        {
            if (i < line.X.Length && double.IsFinite(line.Y[i]))
            {
                Append(run, line.X[i], line.Y[i], line.Stepped);
                continue;
            }

            if (run.Count > 1)
            {
                rc.DrawLine(run, Palette.Line(line.Tone), width, Exact, Palette.Dash(line.Tone), LineJoin.Round);
            }

            run = [];
        }
    }

    private void DrawBand(Band band)
    {
        List<ScreenPoint> upper = Path(band.X, band.Upper, band.Stepped);
        List<ScreenPoint> lower = Path(band.X, band.Lower, band.Stepped);
        lower.Reverse();
        rc.DrawPolygon([.. upper, .. lower], Palette.Light(band.Tone), OxyColors.Undefined, 0, Exact, null, LineJoin.Miter);
    }

    private void DrawStack(Stack stack)
    {
        var below = ImmutableArray.CreateRange(stack.X.Select(_ => 0.0));
        for (int k = 0; k < stack.Areas.Length; k++)
        {
            ImmutableArray<double> above = [.. below.Zip(stack.Areas[k].Heights, (b, h) => b + h)];
            List<ScreenPoint> edge = Path(stack.X, above, stepped: false);
            List<ScreenPoint> floor = Path(stack.X, below, stepped: false);
            floor.Reverse();
            rc.DrawPolygon([.. edge, .. floor], Palette.Fill((Tone)k), OxyColors.Undefined, 0, Exact, null, LineJoin.Miter);
            rc.DrawLine(edge, Palette.Paper, 1.2, Exact, null, LineJoin.Round);
            below = above;
        }
    }

    private void DrawHistogram(Histogram histogram)
    {
        double zero = frame.Y(0);
        if (histogram.OutlineOnly)
        {
            List<ScreenPoint> outline = [new(frame.X(histogram.Edges[0]), zero)];
            for (int i = 0; i < histogram.Heights.Length; i++)
            {
                outline.Add(frame.At(histogram.Edges[i], histogram.Heights[i]));
                outline.Add(frame.At(histogram.Edges[i + 1], histogram.Heights[i]));
            }

            outline.Add(new(frame.X(histogram.Edges[^1]), zero));
            rc.DrawLine(outline, Palette.Line(histogram.Tone), Style.LineWidth, Exact, null, LineJoin.Miter);
        }
        else
        {
            for (int i = 0; i < histogram.Heights.Length; i++)
            {
                double left = frame.X(histogram.Edges[i]);
                double right = frame.X(histogram.Edges[i + 1]);
                double top = frame.Y(histogram.Heights[i]);
                double gap = right - left > 6 ? 0.5 : 0; // a hair of paper between bars, unless they are as thin as that
                if (top < zero)
                {
                    rc.DrawRectangle(new OxyRect(left + gap, top, right - left - (2 * gap), zero - top), Palette.Fill(histogram.Tone), OxyColors.Undefined,
                        0, Exact);
                }
            }
        }
    }

    /// <summary>Over the highest bar, on paper: lines of limits and percentiles may run there.</summary>
    private void DrawName(Histogram histogram, string label)
    {
        int peak = Enumerable.Range(0, histogram.Heights.Length).MaxBy(i => histogram.Heights[i]);
        TextBlock text = TextBlock.Wrap(rc, label, Style.LabelSize, Style.SemiBold, Style.WidestColumn, 1);
        double middle = (frame.X(histogram.Edges[peak]) + frame.X(histogram.Edges[peak + 1])) / 2;
        double x = Math.Clamp(middle, frame.Area.Left + (text.Width / 2) + 4, frame.Area.Right - (text.Width / 2) - 4);
        Chip.Draw(rc, text, x, frame.Y(histogram.Heights[peak]) - 4 - (text.Height / 2), Palette.Text(histogram.Tone));
    }

    private List<ScreenPoint> Path(ImmutableArray<double> x, ImmutableArray<double> y, bool stepped)
    {
        List<ScreenPoint> path = [];
        for (int i = 0; i < x.Length; i++)
        {
            Append(path, x[i], y[i], stepped);
        }

        return path;
    }

    private void Append(List<ScreenPoint> path, double x, double y, bool stepped)
    {
        ScreenPoint next = frame.At(x, y);
        if (stepped && path.Count > 0)
        {
            path.Add(new ScreenPoint(next.X, path[^1].Y));
        }

        path.Add(next);
    }
}
