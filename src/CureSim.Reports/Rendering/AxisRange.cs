using CureSim.Reports.Figures;

namespace CureSim.Reports.Rendering;

/// <summary>Ends of an axis: as told, else from the data with a little air.</summary>
internal static class AxisRange
{
    private const double Air = 0.05;
    private const double AirForLabel = 0.1; // a histogram's name stands over its highest bar

    /// <summary>The ends of the horizontal axis.</summary>
    public static Extent OfX(Figure figure)
    {
        // Lines and bins run to the edge of the plot; single points need air, lest half a mark be cut off.
        bool air = figure.Layers.Any(l => l is Points or Bars) && !figure.Layers.Any(l => l is Histogram or Map or Stack);
        bool zero = figure.X.FromZero || figure.Layers.Any(l => l is Bars);
        return Ends(figure.X, Extent.OfX(figure.Layers), air ? Air : 0, air ? Air : 0, zero);
    }

    /// <summary>The ends of the vertical axis.</summary>
    public static Extent OfY(Figure figure)
    {
        if (figure.Layers.OfType<Bars>().FirstOrDefault() is { } bars)
        {
            return new Extent(-0.5, bars.Rows.Length - 0.5);
        }

        bool zero = figure.Y.FromZero || figure.Layers.Any(l => l is Histogram or Stack);
        double air = figure.Layers.Any(l => l is Map) ? 0 : Air;
        double above = figure.Layers.Any(l => l is Histogram { Label: not null }) ? AirForLabel : air;
        return Ends(figure.Y, Extent.OfY(figure.Layers), air, above, zero);
    }

    private static Extent Ends(Axis axis, Extent data, double airBelow, double airAbove, bool zero)
    {
        if (!axis.Names.IsEmpty)
        {
            return new Extent(-0.5, axis.Names.Length - 0.5);
        }

        bool logarithmic = axis.Scale == AxisScale.Logarithmic;
        double from = data.IsEmpty ? (logarithmic ? 1 : 0) : data.From;
        double to = data.IsEmpty ? (logarithmic ? 10 : 1) : data.To;
        if (zero && !logarithmic)
        {
            airBelow = from < 0 ? airBelow : 0;
            airAbove = to > 0 ? airAbove : 0;
            from = Math.Min(0, from);
            to = Math.Max(0, to);
        }

        double low = logarithmic ? Math.Log10(axis.From ?? from) : axis.From ?? from;
        double high = logarithmic ? Math.Log10(axis.To ?? to) : axis.To ?? to;
        if (!(high - low > 1e-12 * Math.Max(Math.Abs(low), Math.Abs(high))))
        {
            // All values alike: room on both sides, so that the line is not the frame.
            double room = logarithmic ? 0.5 : Math.Max(Math.Abs(low) * 0.1, 1e-9);
            (low, high, airBelow, airAbove) = (axis.From is null ? low - room : low, axis.To is null ? high + room : high + (axis.From is null ? 0 : room),
                0, 0);
        }

        double length = high - low;
        low -= axis.From is null ? airBelow * length : 0;
        high += axis.To is null ? airAbove * length : 0;
        return logarithmic ? new Extent(Math.Pow(10, low), Math.Pow(10, high)) : new Extent(low, high);
    }
}
