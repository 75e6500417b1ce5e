using CureSim.Reports.Figures;
using OxyPlot;
using SkiaSharp;

namespace CureSim.Reports.Rendering;

/// <summary>Draws a map: steps of colour as one picture, contours as lines, their labels on scraps of paper.</summary>
internal sealed class MapPainter(IRenderContext rc, PlotFrame frame)
{
    private const double Pitch = 4;
    private const double PixelsPerUnit = 2;
    private const int LabelsOfALevel = 2;

    /// <summary>Draws the map.</summary>
    /// <param name="map">The map.</param>
    /// <param name="kept">Places that labels must leave free.</param>
    public void Draw(Map map, IEnumerable<OxyRect> kept)
    {
        var field = new MapField(map, frame);
        DrawSteps(map, field);
        List<OxyRect> taken = [.. kept];
        var lines = map.Contours.Select(c => (Contour: c, Lines: ContourLines.Of(field, c.Value, Pitch))).ToList();
        foreach (var (contour, paths) in lines)
        {
            bool required = contour.Value == map.Requirement;
            foreach (List<ScreenPoint> path in paths)
            {
                if (required)
                {
                    Stroke.Limit.Draw(rc, [.. path]);
                }
                else
                {
                    rc.DrawLine(path, Palette.Ink, 1, EdgeRenderingMode.PreferGeometricAccuracy, null, LineJoin.Round);
                }
            }
        }

        // The requirement's label is placed first: it must not give way to another.
        foreach (var (contour, paths) in lines.OrderBy(l => l.Contour.Value == map.Requirement ? 0 : 1))
        {
            bool required = contour.Value == map.Requirement;
            TextBlock text = TextBlock.Wrap(rc, contour.Label, Style.TickSize, required ? Style.SemiBold : Style.Regular, Style.WidestColumn, 1);
            foreach (List<ScreenPoint> path in paths.OrderByDescending(p => p.Count).Take(LabelsOfALevel))
            {
                if (Best(path, text, taken) is { } at)
                {
                    taken.Add(Chip.Around(text, at.X, at.Y));
                    Chip.Draw(rc, text, at.X, at.Y, required ? Palette.LimitText : Palette.Ink);
                }
            }
        }
    }

    private void DrawSteps(Map map, MapField field)
    {
        int width = Math.Max(1, (int)Math.Round((field.Right - field.Left) * PixelsPerUnit));
        int height = Math.Max(1, (int)Math.Round((field.Bottom - field.Top) * PixelsPerUnit));
        SKColor[] colours = Enumerable.Range(0, map.Contours.Length + 1).Select(step => Colour(map, step)).ToArray();
        var pixels = new SKColor[width * height];
        for (int row = 0; row < height; row++)
        {
            for (int column = 0; column < width; column++)
            {
                double value = field.At(field.Left + ((column + 0.5) / PixelsPerUnit), field.Top + ((row + 0.5) / PixelsPerUnit));
                pixels[(row * width) + column] = double.IsNaN(value) ? SKColors.Transparent : colours[Step(map, value)];
            }
        }

        using var bitmap = new SKBitmap(new SKImageInfo(width, height, SKColorType.Rgba8888, SKAlphaType.Unpremul));
        bitmap.Pixels = pixels;
        using SKData png = bitmap.Encode(SKEncodedImageFormat.Png, 100);
        var image = new OxyImage(png.ToArray());
        rc.DrawImage(image, 0, 0, width, height, field.Left, field.Top, field.Right - field.Left, field.Bottom - field.Top, 1, false);
    }

    private static int Step(Map map, double value)
    {
        int step = 0;
        while (step < map.Contours.Length && value >= map.Contours[step].Value)
        {
            step++;
        }

        return step;
    }

    private static SKColor Colour(Map map, int step)
    {
        int steps = map.Contours.Length + 1;
        bool meets = map.Requirement is not { } level
            || (map.LowIsGood ? step == 0 || map.Contours[step - 1].Value < level : step > 0 && map.Contours[step - 1].Value >= level);
        OxyColor colour = Palette.MapStep(map.LowIsGood ? steps - 1 - step : step, steps, meets);
        return new SKColor(colour.R, colour.G, colour.B);
    }

    /// <summary>The best place on a line: inside the plot, clear of other labels, where the line runs level, near its middle.</summary>
    private ScreenPoint? Best(List<ScreenPoint> path, TextBlock text, List<OxyRect> taken)
    {
        OxyRect area = frame.Area;
        ScreenPoint? best = null;
        double lowest = double.PositiveInfinity;
        for (int i = 2; i < path.Count - 2; i++)
        {
            OxyRect scrap = Chip.Around(text, path[i].X, path[i].Y);
            bool inside = scrap.Left > area.Left + 4 && scrap.Right < area.Right - 4 && scrap.Top > area.Top + 4 && scrap.Bottom < area.Bottom - 4;
            if (!inside || taken.Any(t => Overlap(t, scrap)))
            {
                continue;
            }

            double rise = Math.Abs(path[i + 2].Y - path[i - 2].Y);
            double run = Math.Abs(path[i + 2].X - path[i - 2].X);
            double off = Math.Abs(i - (path.Count / 2.0)) / path.Count;
            double score = (rise / (rise + run + 1e-9)) + off;
            if (score < lowest)
            {
                (lowest, best) = (score, path[i]);
            }
        }

        return best;
    }

    private static bool Overlap(OxyRect a, OxyRect b) =>
        a.Left < b.Right + 6 && b.Left < a.Right + 6 && a.Top < b.Bottom + 3 && b.Top < a.Bottom + 3;
}
