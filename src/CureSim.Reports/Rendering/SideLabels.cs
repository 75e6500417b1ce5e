using CureSim.Reports.Figures;
using OxyPlot;

namespace CureSim.Reports.Rendering;

/// <summary>The column of labels right of the plot: ends of lines, bands and areas, horizontal limits and targets.</summary>
internal sealed class SideLabels
{
    private const double LineSpacing = 2;

    private readonly List<Entry> _entries;
    private readonly double _widest;

    private SideLabels(List<Entry> entries, double widestEvent)
    {
        _entries = entries;
        _widest = Math.Max(widestEvent, entries.Select(e => e.Text.Width).DefaultIfEmpty().Max());
    }

    private sealed record Entry(TextBlock Text, OxyColor Colour, double X, double Y);

    /// <summary>Room to leave right of the plot, drawing units.</summary>
    public double Room => _widest == 0 ? Style.NarrowestRight : Style.ColumnGap + _widest + Style.Edge;

    /// <summary>Collects the labels of a figure.</summary>
    public static SideLabels Of(IRenderContext rc, Figure figure)
    {
        List<Entry> entries = [];
        double widest = Math.Min(Style.WidestColumn, figure.Width * Style.WidestShare);
        foreach (Layer layer in figure.Layers)
        {
            foreach (var (label, colour, x, y, bold) in Wanted(layer))
            {
                double weight = bold ? Style.SemiBold : Style.Regular;
                entries.Add(new Entry(TextBlock.Wrap(rc, label, Style.LabelSize, weight, widest, 4), colour, x, y));
            }
        }

        double widestEvent = figure.Layers.OfType<Events>()
            .Select(e => TextBlock.Wrap(rc, e.Label, Style.LabelSize, Style.Regular, widest, 1).Width).DefaultIfEmpty().Max();
        return new SideLabels(entries, widestEvent);
    }

    /// <summary>Draws the labels beside the plot, with a leader where one had to move or where its line ends early.</summary>
    public void Draw(IRenderContext rc, PlotFrame frame)
    {
        OxyRect area = frame.Area;
        double[] wishes = [.. _entries.Select(e => Math.Clamp(frame.Y(e.Y), area.Top, area.Bottom))];
        double[] heights = [.. _entries.Select(e => e.Text.Height + LineSpacing)];
        double[] centres = LabelSpread.Place(wishes, heights, area.Top - (Style.LabelRow / 2), area.Bottom + (Style.LabelRow / 2));
        for (int i = 0; i < _entries.Count; i++)
        {
            Entry entry = _entries[i];
            double end = double.IsNaN(entry.X) ? area.Right : Math.Min(area.Right, frame.X(entry.X));
            bool early = end < area.Right - 8;
            if (early || Math.Abs(centres[i] - wishes[i]) > Style.LabelSize)
            {
                ScreenPoint[] leader = [new(end + (early ? 5 : 1), wishes[i]), new(area.Right + 1, wishes[i]), new(area.Right + Style.ColumnGap - 2, centres[i])];
                rc.DrawLine(leader, Palette.Mix(Palette.Paper, entry.Colour, 0.55), 1, EdgeRenderingMode.PreferGeometricAccuracy, null, LineJoin.Round);
            }

            entry.Text.Draw(rc, area.Right + Style.ColumnGap, centres[i], entry.Colour, HorizontalAlignment.Left, VerticalAlignment.Middle);
        }
    }

    private static IEnumerable<(string Label, OxyColor Colour, double X, double Y, bool Bold)> Wanted(Layer layer)
    {
        switch (layer)
        {
            case Line { Label: { } label } line:
                int last = Enumerable.Range(0, line.Y.Length).Reverse().FirstOrDefault(i => double.IsFinite(line.Y[i]));
                yield return (label, Palette.Text(line.Tone), line.X[last], line.Y[last], true);
                break;
            case Band { Label: { } label } band:
                yield return (label, Palette.Text(band.Tone), band.X[^1], (band.Lower[^1] + band.Upper[^1]) / 2, false);
                break;
            case Points { Label: { } label } points when !points.X.IsEmpty:
                int rightmost = Enumerable.Range(0, points.X.Length).MaxBy(i => points.X[i]);
                yield return (label, Palette.Text(points.Tone), points.X[rightmost], points.Y[rightmost], true);
                break;
            case Stack stack:
                double below = 0;
                for (int k = 0; k < stack.Areas.Length; k++)
                {
                    double height = stack.Areas[k].Heights[^1];
                    yield return (stack.Areas[k].Label, Palette.Text((Tone)k), double.NaN, below + (height / 2), true);
                    below += height;
                }

                break;
            case Limit { Axis: Along.Y } limit:
                yield return (limit.Label, Palette.LimitText, double.NaN, limit.Value, true);
                break;
            case Target { Axis: Along.Y } target:
                yield return (target.Label, Palette.Ink, double.NaN, target.Value, false);
                break;
        }
    }
}
