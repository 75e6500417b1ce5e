using CureSim.Reports.Figures;
using OxyPlot;

namespace CureSim.Reports.Rendering;

/// <summary>What stands between the header and the plot: the title of the vertical axis, labels of vertical lines, rows of events.</summary>
internal sealed class TopLabels
{
    private readonly Figure _figure;
    private readonly TextBlock? _axisTitle;
    private readonly List<(TextBlock Text, Stroke Stroke, double Value)> _labels = [];
    private readonly Events[] _events;
    private readonly double _left;
    private readonly double _right;
    private LabelRows.Placed[] _places = [];
    private int _titleRow;

    public TopLabels(IRenderContext rc, Figure figure, double left, double right)
    {
        (_figure, _left, _right) = (figure, left, right);
        bool bars = figure.Layers.Any(l => l is Bars);
        _axisTitle = bars ? null : TextBlock.Wrap(rc, figure.Y.Title, Style.LabelSize, Style.Regular, right - left, 1);
        _events = [.. figure.Layers.OfType<Events>()];
        foreach (Layer layer in figure.Layers)
        {
            switch (layer)
            {
                case Limit { Axis: Along.X } limit:
                    Add(rc, limit.Label, Style.SemiBold, Stroke.Limit, limit.Value);
                    break;
                case Target { Axis: Along.X } target:
                    Add(rc, target.Label, Style.Regular, Stroke.Target, target.Value);
                    break;
                case Percentiles percentiles:
                    foreach (NamedValue value in percentiles.Values)
                    {
                        Add(rc, value.Label, Style.Regular, Stroke.Marker, value.Value);
                    }

                    break;
            }
        }
    }

    /// <summary>Room needed above the plot, drawing units.</summary>
    public double Room => (Rows * Style.LabelRow) + (_events.Length * Style.EventRow) + Gap;

    private int Rows => Math.Max(_axisTitle is null ? 0 : _titleRow + 1, _places.Length == 0 ? 0 : _places.Max(p => p.Row) + 1);

    /// <summary>Between plot and rows: half a tick label stands out above the plot, unless rows of events lie between.</summary>
    private double Gap => _events.Length == 0 ? 9 : 4;

    /// <summary>Rows are assigned once the places of the values are known.</summary>
    public void Arrange(PlotFrame frame)
    {
        _places = LabelRows.Place([.. _labels.Select(l => (frame.X(l.Value), l.Text.Width))], _left, _right);
        _titleRow = _axisTitle is null ? 0 : LabelRows.RowAtLeft(_places, _left, _axisTitle.Width);
    }

    /// <summary>Draws it all; the lines of limits, targets and percentiles go from here through the plot.</summary>
    public void Draw(IRenderContext rc, PlotFrame frame)
    {
        OxyRect area = frame.Area;
        double rowsBottom = area.Top - Gap - (_events.Length * Style.EventRow);
        for (int i = 0; i < _labels.Count; i++)
        {
            LabelRows.Placed place = _places[i];
            var (text, stroke, _) = _labels[i];
            double bottom = rowsBottom - (place.Row * Style.LabelRow);
            double lineTop = rowsBottom - (place.LineRows * Style.LabelRow) + (place.LineRows > place.Row ? 3 : 1);
            if (place.Line >= area.Left - 0.5 && place.Line <= area.Right + 0.5)
            {
                stroke.Draw(rc, new ScreenPoint(place.Line, lineTop), new ScreenPoint(place.Line, area.Bottom));
            }

            text.Draw(rc, place.Left, bottom, stroke.Text, HorizontalAlignment.Left, VerticalAlignment.Bottom);
        }

        _axisTitle?.Draw(rc, _left, rowsBottom - (_titleRow * Style.LabelRow), Palette.SecondText, HorizontalAlignment.Left, VerticalAlignment.Bottom);
        for (int i = 0; i < _events.Length; i++)
        {
            double middle = area.Top - Gap - ((i + 0.5) * Style.EventRow);
            DrawEvents(rc, frame, _events[i], middle);
        }
    }

    private static void DrawEvents(IRenderContext rc, PlotFrame frame, Events events, double middle)
    {
        OxyColor colour = Palette.Line(events.Tone);
        foreach (double value in events.X)
        {
            double x = frame.X(value);
            if (x >= frame.Area.Left - 0.5 && x <= frame.Area.Right + 0.5)
            {
                ScreenPoint[] tick = [new(x, middle - 5), new(x, middle + 5)];
                rc.DrawLine(tick, colour, 1.6, EdgeRenderingMode.PreferGeometricAccuracy, null, LineJoin.Miter);
            }
        }

        TextBlock.Wrap(rc, events.Label, Style.LabelSize, Style.Regular, Style.WidestColumn, 1).Draw(
            rc, frame.Area.Right + Style.ColumnGap, middle, Palette.Text(events.Tone), HorizontalAlignment.Left, VerticalAlignment.Middle);
    }

    private void Add(IRenderContext rc, string label, double weight, Stroke stroke, double value) =>
        _labels.Add((TextBlock.Wrap(rc, label, Style.LabelSize, weight, (_right - _left) / 2, 1), stroke, value));
}
