using CureSim.Reports.Figures;
using CureSim.Reports.Text;
using OxyPlot;
using OxyPlot.Axes;
using Axis = OxyPlot.Axes.Axis;

namespace CureSim.Reports.Rendering;

/// <summary>The axes of a figure laid out in a rectangle: gridlines and tick labels are drawn, values can be turned into places.</summary>
internal sealed class PlotFrame
{
    private const double RoomForXLabel = 70;
    private const double RoomForYLabel = 46;
    private const double NameWidth = 190;

    private readonly Axis _x;
    private readonly Axis _y;

    private PlotFrame(Axis x, Axis y, OxyRect area)
    {
        _x = x;
        _y = y;
        Area = area;
    }

    /// <summary>The plot area.</summary>
    public OxyRect Area { get; }

    /// <summary>Place of a value on the horizontal axis.</summary>
    public double X(double value) => Math.Clamp(_x.Transform(value), -1e5, 1e5);

    /// <summary>Place of a value on the vertical axis.</summary>
    public double Y(double value) => Math.Clamp(_y.Transform(value), -1e5, 1e5);

    /// <summary>Lower and upper end of an axis with its scale, such as "0 100 linear"; null for an axis of names.</summary>
    /// <param name="axis">As the figure has it.</param>
    /// <param name="horizontal">True: the horizontal one.</param>
    public string? Ends(Figures.Axis axis, bool horizontal)
    {
        Axis drawn = horizontal ? _x : _y;
        return axis.Names.IsDefaultOrEmpty
            ? string.Create(System.Globalization.CultureInfo.InvariantCulture, $"{drawn.ActualMinimum:R} {drawn.ActualMaximum:R} {(axis.Scale == AxisScale.Logarithmic ? "log" : "linear")}")
            : null;
    }

    /// <summary>Place of a point.</summary>
    public ScreenPoint At(double x, double y) => new(X(x), Y(y));

    /// <summary>Draws gridlines, axes and tick labels.</summary>
    /// <param name="rc">Draws, or only measures.</param>
    /// <param name="figure">The figure.</param>
    /// <param name="rect">Room for the plot with its tick labels.</param>
    /// <param name="xRange">Ends of the horizontal axis.</param>
    public static PlotFrame Draw(IRenderContext rc, Figure figure, OxyRect rect, Extent xRange)
    {
        Extent yRange = AxisRange.OfY(figure);
        var bars = figure.Layers.OfType<Bars>().FirstOrDefault();
        bool map = figure.Layers.Any(l => l is Map);
        double nameWidth = (rect.Width - 60) / Math.Max(1, figure.X.Names.Length) * 0.92;
        Ticks xTicks = Places(figure.X, xRange, (int)(rect.Width / RoomForXLabel), Wrapped(rc, figure.X.Names, nameWidth, 3));
        Ticks yTicks = bars is not null
            ? Ticks.Named(Wrapped(rc, [.. bars.Rows.Select(r => r.Name)], NameWidth, 2))
            : Places(figure.Y, yRange, (int)(rect.Height / RoomForYLabel), Wrapped(rc, figure.Y.Names, NameWidth, 2));

        Axis x = Make(figure.X.Scale, xTicks, xRange);
        x.Position = AxisPosition.Bottom;
        x.MajorGridlineStyle = bars is not null ? LineStyle.Solid : LineStyle.None;
        Axis y = Make(bars is null ? figure.Y.Scale : AxisScale.Linear, yTicks, yRange);
        y.Position = AxisPosition.Left;
        y.MajorGridlineStyle = bars is null && !map ? LineStyle.Solid : LineStyle.None;
        if (bars is not null)
        {
            (y.StartPosition, y.EndPosition) = (1, 0);
            y.MajorTickSize = 0;
        }

        foreach (Axis axis in (Axis[])[x, y])
        {
            axis.MajorGridlineColor = Palette.Grid;
            axis.MajorGridlineThickness = 1;
            axis.AxislineStyle = axis == y && bars is not null ? LineStyle.None : LineStyle.Solid;
            axis.AxislineColor = Palette.AxisLine;
            axis.TicklineColor = Palette.AxisLine;
            axis.MinorTicklineColor = Palette.AxisLine;
            axis.FontSize = Style.TickSize;
            axis.TextColor = Palette.Ink;
            axis.AxisTickToLabelDistance = 4;
            axis.MaximumPadding = 0;
            axis.MinimumPadding = 0;
        }

        var model = new PlotModel
        {
            DefaultFont = Style.FontFamilies,
            PlotAreaBorderThickness = new OxyThickness(0),
            Padding = new OxyThickness(0),
            Culture = System.Globalization.CultureInfo.InvariantCulture,
            Axes = { x, y },
        };
        ((IPlotModel)model).Update(true);
        ((IPlotModel)model).Render(rc, rect);
        if (model.GetLastPlotException() is { } failure)
        {
            throw new InvalidOperationException($"Figure '{figure.Title}' could not be laid out: {failure.Message}", failure);
        }

        return new PlotFrame(x, y, model.PlotArea);
    }

    private static Axis Make(AxisScale scale, Ticks ticks, Extent range) => scale == AxisScale.Logarithmic
        ? new TickedLogarithmicAxis
        {
            Ticks = ticks, LabelFormatter = ticks.Show, Minimum = range.From, Maximum = range.To, MajorTickSize = 4, MinorTickSize = 2.5,
        }
        : new TickedLinearAxis
        {
            Ticks = ticks, LabelFormatter = ticks.Show, Minimum = range.From, Maximum = range.To, MajorTickSize = 4, MinorTickSize = 0,
        };

    private static Ticks Places(Figures.Axis axis, Extent range, int count, IReadOnlyList<string> names) =>
        names.Count > 0 ? Ticks.Named(names)
        : axis.Scale == AxisScale.Logarithmic ? Ticks.Logarithmic(range.From, range.To, count)
        : Ticks.Linear(range.From, range.To, count, axis.WholeNumbers);

    private static List<string> Wrapped(IRenderContext rc, IReadOnlyList<string> names, double width, int lines) =>
        [.. names.Select(n => TextBlock.Wrap(rc, Drawable(n), Style.TickSize, Style.Regular, width, lines).Text)];

    /// <summary>The plotting library reads ^{ } and _{ } in tick labels as raised and lowered text; a user's name is shown as it is.</summary>
    private static string Drawable(string name) => PlainText.OneLine(name).Replace("^{", "^\u200B{", StringComparison.Ordinal)
        .Replace("_{", "_\u200B{", StringComparison.Ordinal);
}
