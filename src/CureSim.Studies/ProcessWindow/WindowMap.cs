using System.Collections.Immutable;
using CureSim.Core.Statistics;

namespace CureSim.Studies.ProcessWindow;

/// <summary>The map: nodes by column, contours, and what is recommended from them.</summary>
public sealed class WindowMap
{
    // Margins this near are the same: no qualification shows a fiftieth of an index.
    private const double Alike = 0.02;
    private const int EdgeRounds = 3;

    private const int Rounds = 8;

    private WindowMap(WindowCase study, WindowColumn[] columns, int planned)
    {
        Case = study;
        X = [.. columns.Select(c => c.X)];
        var peak = Best(study, columns);
        Y = [.. study.Y.Values.Append(peak.Y).Distinct().Order()];
        Nodes = [.. columns.Select(c => Y.Select(y => NodeAt(c, y)).ToImmutableArray())];
        Crossings = [.. columns.SelectMany(c => c.Crossings)];
        Known = [.. columns.Select(c => c.Known.ToImmutableArray())];
        Judged = columns.Sum(c => c.Judged);
        EdgeColumns = columns.Length - planned;
        States = columns[0].States;
        SetPointColumn = X.IndexOf(peak.X);
        SetPointRow = Y.IndexOf(peak.Y);
    }

    /// <summary>The case.</summary>
    public WindowCase Case { get; }

    /// <summary>Values along the map, rising; edge columns are among them.</summary>
    public ImmutableArray<double> X { get; }

    /// <summary>Values up the map, rising.</summary>
    public ImmutableArray<double> Y { get; }

    /// <summary>Nodes by column and row.</summary>
    public ImmutableArray<ImmutableArray<NodeFigures>> Nodes { get; }

    /// <summary>All that was judged, by column: nodes, and the points at which contours were sought.</summary>
    public ImmutableArray<ImmutableArray<NodeFigures>> Known { get; }

    /// <summary>Points of the contour of the requirement, by column.</summary>
    public ImmutableArray<Crossing> Crossings { get; }

    /// <summary>Pairs of settings judged.</summary>
    public int Judged { get; }

    /// <summary>Columns added where the window begins or ends along X.</summary>
    public int EdgeColumns { get; }

    /// <summary>States judged at each pair in the first world: for the fraction, and before checks.</summary>
    public (int Made, int Checks) States { get; }

    /// <summary>Column of the recommended set-point.</summary>
    public int SetPointColumn { get; }

    /// <summary>Row of the recommended set-point.</summary>
    public int SetPointRow { get; }

    /// <summary>The recommended set-point: the largest smallest margin; of those alike the nearest to the present setting.</summary>
    public NodeFigures SetPoint => Nodes[SetPointColumn][SetPointRow];

    /// <summary>Figures at the cell's own settings; null with settings of the user's choice.</summary>
    public NodeFigures? Own { get; private set; }

    /// <summary>The largest rectangle about the set-point that holds the requirement; null when none does.</summary>
    public OperatingRectangle? Rectangle { get; private set; }

    /// <summary>True when no pair of settings meets the requirement (at the unfavourable end of the band when there are worlds).</summary>
    public bool IsEmpty => Unfavourable(SetPoint) < 0.0;

    /// <summary>Makes the map.</summary>
    /// <param name="study">The case.</param>
    /// <param name="size">How much is kept and judged.</param>
    /// <param name="threads">Threads; results do not depend on it.</param>
    /// <param name="progress">Told the columns done and planned.</param>
    /// <param name="everyNode">True: every node is judged, contours apart as well.</param>
    /// <param name="cancel">Stops it.</param>
    public static WindowMap Of(WindowCase study, MapSize size, int threads, Action<int, int>? progress = null, bool everyNode = false, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(study);
        int planned = study.X.Values.Length, done = 0;
        var columns = new SortedList<double, WindowColumn>();
        void Add(double[] xs)
        {
            var made = new WindowColumn[xs.Length];
            Parallel.For(0, xs.Length, new ParallelOptions { MaxDegreeOfParallelism = Math.Max(1, threads), CancellationToken = cancel }, i =>
            {
                made[i] = WindowColumn.Of(study, xs[i], size, everyNode, cancel);
                progress?.Invoke(Interlocked.Increment(ref done), planned + 2);
            });
            foreach (var column in made)
            {
                columns.Add(column.X, column);
            }
        }

        try
        {
            Add([.. study.X.Values]);
            for (int round = 0; round < EdgeRounds; round++)
            {
                Add(EdgesAlong(columns));
            }
        }
        catch (AggregateException e) when (e.InnerExceptions.All(i => i is OperationCanceledException))
        {
            throw new OperationCanceledException(cancel);
        }

        var map = new WindowMap(study, [.. columns.Values], planned);
        map.FindRectangle(size, threads, cancel);
        map.Own = study.Own is var (x, y) ? WindowColumn.Only(study, x, [y], size, cancel)[0] : null;
        return map;
    }

    // The ends of a rectangle are places of their own: found on straight lines between nodes, then judged, until all four corners are.
    private void FindRectangle(MapSize size, int threads, CancellationToken cancel)
    {
        double confidence = Case.Study.Confidence, critical = Case.Worlds == 1 ? OperatingRectangle.CriticalValue(this, confidence) : double.NaN;
        var lattice = new SettingLattice(this);
        int column = Array.IndexOf(lattice.X, SetPoint.X), row = Array.IndexOf(lattice.Y, SetPoint.Y);
        for (int round = 0; round < Rounds; round++)
        {
            // A setting needs room on all sides: two steps of the lattice, one, or none, as far as there is any.
            Rectangle = Enumerable.Range(0, 3).Select(k => OperatingRectangle.Largest(lattice, column, row, critical, confidence, 2 - k)).FirstOrDefault(x => x is not null);
            if (Rectangle is not { } r)
            {
                return;
            }

            int[] rows = [r.FromRow, r.ToRow];
            int[] open = [.. new[] { r.FromColumn, r.ToColumn }.Where(i => rows.Any(j => lattice[i, j].Interpolated))];
            if (open.Length == 0)
            {
                return;
            }

            var judged = new NodeFigures[open.Length][];
            Parallel.For(0, open.Length, new ParallelOptions { MaxDegreeOfParallelism = Math.Max(1, threads), CancellationToken = cancel }, k =>
                judged[k] = WindowColumn.Only(Case, lattice.X[open[k]], rows.Select(j => lattice.Y[j]), size, cancel));
            for (int k = 0; k < open.Length; k++)
            {
                for (int j = 0; j < rows.Length; j++)
                {
                    lattice[open[k], rows[j]] = judged[k][j];
                }
            }
        }

        // Corners that would not settle: the last one found, less what was not judged, is no rectangle to print.
        Rectangle = null;
    }

    /// <summary>Smallest margin at the unfavourable end: the 5th percentile over worlds, or the value itself with one world.</summary>
    public static double Unfavourable(NodeFigures node) => node.Conforming.Value.Length == 1 ? node.Smallest : SampleQuantile.Of(SmallestByWorld(node), 0.05);

    /// <summary>Smallest margin by world, each margin moved towards its mean by what sampling alone scatters it.</summary>
    internal static double[] SmallestByWorld(NodeFigures node)
    {
        double[] a = Moved(node.Conforming), b = Moved(node.State);
        return [.. a.Zip(b, Math.Min)];
    }

    private static double[] Moved(Margins margins)
    {
        if (margins.Value.Length < 2)
        {
            return margins.Value;
        }

        double[] variances = [.. margins.Error.Select(e => e * e)];
        double mean = margins.Mean, factor = WorldBand.Of(margins.Value, variances).Shrinkage ?? 1.0;
        return [.. margins.Value.Select(v => mean + (factor * (v - mean)))];
    }

    // Middles, at three digits, between neighbours of which one has a window along Y and the other has none.
    private static double[] EdgesAlong(SortedList<double, WindowColumn> columns)
    {
        var list = columns.Values;
        var xs = new List<double>();
        bool Holds(WindowColumn c) => c.Nodes.Any(n => n.Smallest >= 0.0) || c.Crossings.Count > 0;
        for (int i = 1; i < list.Count; i++)
        {
            double middle = WindowAxis.Rounded(Math.Sqrt(list[i - 1].X * list[i].X));
            if (Holds(list[i - 1]) != Holds(list[i]) && middle > list[i - 1].X && middle < list[i].X)
            {
                xs.Add(middle);
            }
        }

        return [.. xs];
    }

    private static NodeFigures NodeAt(WindowColumn column, double y)
    {
        if (column.Nodes.FirstOrDefault(n => n.Y == y) is { } node)
        {
            return node;
        }

        NodeFigures[] known = [.. column.Known];
        int high = Array.FindIndex(known, n => n.Y >= y);
        return known[high].Y == y ? known[high] : NodeFigures.Blend(known[high - 1], known[high], y, Math.Log(y / known[high - 1].Y) / Math.Log(known[high].Y / known[high - 1].Y), interpolated: true);
    }

    // Of columns whose peaks are alike, the one nearest to the present setting: what changes least asks for least.
    private static NodeFigures Best(WindowCase study, WindowColumn[] columns)
    {
        double most = columns.Max(c => Unfavourable(c.Peak));
        var (x, y) = study.Own ?? (Math.Sqrt(study.X.From * study.X.To), Math.Sqrt(study.Y.From * study.Y.To));
        return columns.Select(c => c.Peak).Where(n => Unfavourable(n) >= most - Alike).MinBy(n => Math.Pow(Math.Log(n.X / x), 2) + Math.Pow(Math.Log(n.Y / y), 2))!;
    }
}
