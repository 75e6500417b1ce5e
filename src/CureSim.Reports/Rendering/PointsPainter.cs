using CureSim.Reports.Figures;
using OxyPlot;

namespace CureSim.Reports.Rendering;

/// <summary>Draws single points, their intervals and names.</summary>
internal sealed class PointsPainter(IRenderContext rc, PlotFrame frame)
{
    private const EdgeRenderingMode Exact = EdgeRenderingMode.PreferGeometricAccuracy;
    private const int Crowd = 60;

    /// <summary>Draws the points; smaller ones when there are many.</summary>
    public void Draw(Points points)
    {
        OxyColor colour = Palette.Line(points.Tone);
        MarkShape shape = points.Shape == MarkShape.ByTone ? Palette.Shape(points.Tone) : points.Shape;
        double radius = points.X.Length > Crowd ? Style.MarkRadius * 0.6 : Style.MarkRadius;
        for (int i = 0; i < points.X.Length; i++)
        {
            ScreenPoint at = frame.At(points.X[i], points.Y[i]);
            if (!points.Lower.IsEmpty)
            {
                double top = frame.Y(points.Upper[i]);
                double bottom = frame.Y(points.Lower[i]);
                rc.DrawLine([new(at.X, top), new(at.X, bottom)], colour, 1.6, Exact, null, LineJoin.Miter);
                rc.DrawLine([new(at.X - 4, top), new(at.X + 4, top)], colour, 1.6, Exact, null, LineJoin.Miter);
                rc.DrawLine([new(at.X - 4, bottom), new(at.X + 4, bottom)], colour, 1.6, Exact, null, LineJoin.Miter);
            }

            Mark(at, shape, radius, colour);
            if (!points.Names.IsEmpty)
            {
                DrawName(points.Names[i], at, Palette.Text(points.Tone));
            }
        }
    }

    /// <summary>Places of named points and their names, which other labels must leave free.</summary>
    public IEnumerable<OxyRect> Kept(Points points) => points.Names.SelectMany((name, i) =>
    {
        ScreenPoint at = frame.At(points.X[i], points.Y[i]);
        var (text, middle) = NameBlock(name, at);
        return new[] { Chip.Around(text, middle, at.Y), new OxyRect(at.X - 6, at.Y - 6, 12, 12) };
    });

    private void Mark(ScreenPoint at, MarkShape shape, double r, OxyColor colour)
    {
        switch (shape)
        {
            case MarkShape.Square:
                rc.DrawRectangle(new OxyRect(at.X - (0.9 * r), at.Y - (0.9 * r), 1.8 * r, 1.8 * r), colour, Palette.Paper, 0.8, Exact);
                break;
            case MarkShape.Triangle:
                rc.DrawPolygon([new(at.X, at.Y - (1.2 * r)), new(at.X + (1.1 * r), at.Y + (0.8 * r)), new(at.X - (1.1 * r), at.Y + (0.8 * r))], colour,
                    Palette.Paper, 0.8, Exact, null, LineJoin.Miter);
                break;
            case MarkShape.Diamond:
                rc.DrawPolygon([new(at.X, at.Y - (1.3 * r)), new(at.X + (1.3 * r), at.Y), new(at.X, at.Y + (1.3 * r)), new(at.X - (1.3 * r), at.Y)], colour,
                    Palette.Paper, 0.8, Exact, null, LineJoin.Miter);
                break;
            case MarkShape.Cross:
                rc.DrawLine([new(at.X - r, at.Y), new(at.X + r, at.Y)], colour, 2, Exact, null, LineJoin.Miter);
                rc.DrawLine([new(at.X, at.Y - r), new(at.X, at.Y + r)], colour, 2, Exact, null, LineJoin.Miter);
                break;
            default:
                rc.DrawEllipse(new OxyRect(at.X - r, at.Y - r, 2 * r, 2 * r), colour, Palette.Paper, 0.8, Exact);
                break;
        }
    }

    /// <summary>Right of the mark, or left where the plot ends; on paper, so that it can be read over lines and maps.</summary>
    private void DrawName(string name, ScreenPoint at, OxyColor colour)
    {
        var (text, middle) = NameBlock(name, at);
        Chip.Draw(rc, text, middle, at.Y, colour);
    }

    private (TextBlock Text, double Middle) NameBlock(string name, ScreenPoint at)
    {
        TextBlock text = TextBlock.Wrap(rc, name, Style.LabelSize, Style.SemiBold, Style.WidestColumn, 2);
        bool toTheRight = at.X + 11 + text.Width <= frame.Area.Right;
        return (text, toTheRight ? at.X + 11 + (text.Width / 2) : at.X - 11 - (text.Width / 2));
    }
}
