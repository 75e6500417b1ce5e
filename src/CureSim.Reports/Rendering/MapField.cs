using System.Collections.Immutable;
using CureSim.Reports.Figures;

namespace CureSim.Reports.Rendering;

/// <summary>The values of a map at any place of the plot: bilinear between the nodes, along the axes as they are drawn.</summary>
internal sealed class MapField
{
    private readonly double[] _x;
    private readonly double[] _y;
    private readonly Map _map;

    public MapField(Map map, PlotFrame frame)
    {
        _map = map;
        _x = [.. map.X.Select(frame.X)];
        _y = [.. map.Y.Select(v => -frame.Y(v))]; // places run downwards; turned, so that both rise
    }

    /// <summary>Left end of the map.</summary>
    public double Left => _x[0];

    /// <summary>Right end of the map.</summary>
    public double Right => _x[^1];

    /// <summary>Upper end of the map.</summary>
    public double Top => -_y[^1];

    /// <summary>Lower end of the map.</summary>
    public double Bottom => -_y[0];

    /// <summary>The value at a place; not-a-number outside and where a node around has none.</summary>
    public double At(double x, double y)
    {
        int i = Cell(_x, x);
        int j = Cell(_y, -y);
        if (i < 0 || j < 0)
        {
            return double.NaN;
        }

        double u = (x - _x[i]) / (_x[i + 1] - _x[i]);
        double v = (-y - _y[j]) / (_y[j + 1] - _y[j]);
        double value = Mean(_map.Values, i, j, u, v);
        if (_map.OtherSide.IsEmpty)
        {
            return value;
        }

        double other = Mean(_map.OtherSide, i, j, u, v);
        return _map.LowIsGood ? Math.Max(value, other) : Math.Min(value, other);
    }

    private static int Cell(double[] nodes, double at)
    {
        const double slack = 1e-6; // a place on the edge belongs to the map, whatever rounding did to it
        if (!(at >= nodes[0] - slack && at <= nodes[^1] + slack))
        {
            return -1;
        }

        int found = Array.BinarySearch(nodes, at);
        int cell = found >= 0 ? found : ~found - 1;
        return Math.Clamp(cell, 0, nodes.Length - 2);
    }

    private double Mean(ImmutableArray<double> values, int i, int j, double u, double v)
    {
        double Node(int column, int row) => values[(column * _map.Y.Length) + row];
        return ((1 - u) * (((1 - v) * Node(i, j)) + (v * Node(i, j + 1)))) + (u * (((1 - v) * Node(i + 1, j)) + (v * Node(i + 1, j + 1))));
    }
}
