namespace CureSim.Studies.ProcessWindow;

/// <summary>Settings finer than the map's nodes, for the ends of a rectangle: between nodes straight on logarithms, at places that matter judged.</summary>
/// <remarks>
/// Margins are concave along a setting between its two edges, so a straight line between two nodes lies below them: what is interpolated errs on the safe side. Values
/// have three significant digits, as a protocol prints them.
/// </remarks>
internal sealed class SettingLattice
{
    private const int Parts = 4;
    private readonly NodeFigures[,] nodes;

    public SettingLattice(WindowMap map)
    {
        X = Finer(map.X);
        Y = Finer(map.Y);
        nodes = new NodeFigures[X.Length, Y.Length];
        var rows = new NodeFigures[map.X.Length, Y.Length];
        for (int i = 0; i < map.X.Length; i++)
        {
            for (int j = 0; j < Y.Length; j++)
            {
                rows[i, j] = Between(map.Y, k => map.Nodes[i][k], Y[j], (a, b, share) => NodeFigures.Blend(a, b, Y[j], share, interpolated: true));
            }
        }

        for (int i = 0; i < X.Length; i++)
        {
            for (int j = 0; j < Y.Length; j++)
            {
                int row = j;
                nodes[i, j] = Between(map.X, k => rows[k, row], X[i], (a, b, share) => NodeFigures.Blend(a, b, Y[row], share, interpolated: true) with { X = X[i] });
            }
        }
    }

    /// <summary>Values along.</summary>
    public double[] X { get; }

    /// <summary>Values up.</summary>
    public double[] Y { get; }

    /// <summary>Figures at a pair.</summary>
    public NodeFigures this[int i, int j]
    {
        get => nodes[i, j];
        set => nodes[i, j] = value;
    }

    private static double[] Finer(IReadOnlyList<double> values) =>
    [
        .. Enumerable.Range(1, values.Count - 1).SelectMany(i => Enumerable.Range(0, Parts).Select(k => WindowAxis.Rounded(values[i - 1] * Math.Pow(values[i] / values[i - 1], (double)k / Parts)))).Append(values[^1]).Distinct().Order(),
    ];

    private static NodeFigures Between(IReadOnlyList<double> places, Func<int, NodeFigures> at, double place, Func<NodeFigures, NodeFigures, double, NodeFigures> blend)
    {
        int high = 0;
        while (high < places.Count - 1 && places[high] < place)
        {
            high++;
        }

        if (places[high] == place || high == 0)
        {
            return at(high);
        }

        double share = Math.Log(place / places[high - 1]) / Math.Log(places[high] / places[high - 1]);
        return blend(at(high - 1), at(high), share);
    }
}
