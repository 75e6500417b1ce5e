using CureSim.Core.Cell;
using CureSim.Engine.Plan;

namespace CureSim.Studies.ProcessWindow;

/// <summary>One value of X with everything that is known along Y: paths are followed once, states judged at as many exposure times as are asked for.</summary>
internal sealed class WindowColumn
{
    private const int Stride = 4;
    private readonly WindowCase study;
    private readonly MapSize size;
    private readonly CancellationToken cancel;
    private readonly SortedList<double, NodeFigures> known = [];
    private PathFigures[][] paths = [];

    private WindowColumn(WindowCase study, double x, MapSize size, CancellationToken cancel)
    {
        this.study = study;
        this.size = size;
        this.cancel = cancel;
        X = x;
    }

    /// <summary>Value of X.</summary>
    public double X { get; }

    /// <summary>Pairs of settings that were judged.</summary>
    public int Judged => known.Count;

    /// <summary>States kept for a world.</summary>
    public (int Made, int Checks) States { get; private set; }

    /// <summary>One node for each value of Y.</summary>
    public NodeFigures[] Nodes { get; private set; } = [];

    /// <summary>Where the smallest margin is zero, by rising Y.</summary>
    public IReadOnlyList<Crossing> Crossings { get; private set; } = [];

    /// <summary>The setting of largest smallest margin along Y, between nodes, at three digits.</summary>
    public NodeFigures Peak { get; private set; } = null!;

    /// <summary>Everything judged, by rising Y: the map's own nodes and those at which a contour was sought.</summary>
    public IEnumerable<NodeFigures> Known => known.Values;

    /// <summary>Follows, judges, refines.</summary>
    /// <param name="study">The case.</param>
    /// <param name="x">Value of X.</param>
    /// <param name="size">How much is kept and judged.</param>
    /// <param name="everyNode">True: every node is judged; false: only near contours.</param>
    /// <param name="cancel">Stops it.</param>
    public static WindowColumn Of(WindowCase study, double x, MapSize size, bool everyNode, CancellationToken cancel)
    {
        var column = new WindowColumn(study, x, size, cancel);
        column.Follow();
        column.Refine(everyNode);
        column.Seek();
        column.Climb();
        column.paths = [];
        return column;
    }

    /// <summary>Figures at single values of Y, nothing more.</summary>
    public static NodeFigures[] Only(WindowCase study, double x, IEnumerable<double> ys, MapSize size, CancellationToken cancel)
    {
        var column = new WindowColumn(study, x, size, cancel);
        column.Follow();
        return [.. ys.Select(column.Find)];
    }

    private void Follow()
    {
        if (!study.IsUsual)
        {
            return;
        }

        paths = new PathFigures[study.TimesOfPath.Length][];
        for (int knot = 0; knot < paths.Length; knot++)
        {
            var plan = study.PathPlan(X, knot);
            paths[knot] = [.. Enumerable.Range(0, study.Worlds).Select(w => new PathFigures(plan, study.ModelOf(plan, w), size.States, size.Checks, cancel))];
        }

        States = paths[0][0].Count;
    }

    private NodeFigures Find(double y)
    {
        if (known.TryGetValue(y, out var found))
        {
            return found;
        }

        cancel.ThrowIfCancellationRequested();
        var scenario = study.At(X, y);
        NodeFigures node;
        if (!study.IsUsual)
        {
            var plan = new RunPlan(WindowCase.Path(scenario));
            PathFigures[] own = [.. Enumerable.Range(0, study.Worlds).Select(w => new PathFigures(plan, plan.ModelOf(w), size.States, size.Checks, cancel))];
            States = own[0].Count;
            node = Figures(own, scenario, y);
        }
        else if (paths.Length == 1)
        {
            node = Figures(paths[0], scenario, y);
        }
        else
        {
            // Lit hours change the path little and smoothly: straight in ln t between two times whose paths were followed, each judged at this very time.
            var times = study.TimesOfPath;
            int k = Math.Clamp(y < times[1] ? 0 : 1, 0, times.Length - 2);
            double share = Math.Clamp(Math.Log(y / times[k]) / Math.Log(times[k + 1] / times[k]), 0.0, 1.0);
            node = share <= 0.0 ? Figures(paths[k], scenario, y)
                : share >= 1.0 ? Figures(paths[k + 1], scenario, y)
                : NodeFigures.Blend(Figures(paths[k], scenario, y), Figures(paths[k + 1], scenario, y), y, share, interpolated: false);
        }

        known.Add(y, node);
        return node;
    }

    private NodeFigures Figures(PathFigures[] worlds, Scenario scenario, double y)
    {
        int m = worlds.Length, limits = study.Limits.Length;
        var p = new double[m];
        Margins New() => new(new double[m], new double[m]);
        Margins conforming = New(), state = New();
        Margins[] own = [.. Enumerable.Range(0, limits).Select(_ => New())];
        double[] a = [], b = [];
        for (int w = 0; w < m; w++)
        {
            var f = worlds[w].At(scenario, study);
            p[w] = f.Nonconforming;
            (conforming.Value[w], conforming.Error[w]) = f.Conforming;
            (state.Value[w], state.Error[w]) = f.State;
            for (int r = 0; r < limits; r++)
            {
                (own[r].Value[w], own[r].Error[w]) = f.Own[r];
            }

            (a, b) = (f.ConformingBatch, f.StateBatch);
        }

        return new(X, y, p, conforming, state, own, m == 1 ? a : [], m == 1 ? b : [], false);
    }

    private void Refine(bool everyNode)
    {
        var y = study.Y.Values;
        var judged = new NodeFigures?[y.Length];
        int stride = everyNode ? 1 : Stride;
        for (int j = 0; j < y.Length; j += stride)
        {
            judged[j] = Find(y[j]);
        }

        judged[^1] ??= Find(y[^1]);
        for (bool more = true; more;)
        {
            more = false;
            int best = Enumerable.Range(0, y.Length).Where(j => judged[j] is not null).MaxBy(j => judged[j]!.Smallest), last = 0;
            for (int j = 1; j < y.Length; j++)
            {
                if (judged[j] is null)
                {
                    continue;
                }

                if (j - last > 1 && (last == best || j == best || AreNearContour(judged[last]!, judged[j]!)))
                {
                    int middle = (last + j) / 2;
                    judged[middle] = Find(y[middle]);
                    more = true;
                }

                last = j;
            }
        }

        Nodes = new NodeFigures[y.Length];
        for (int j = 0, low = 0; j < y.Length; j++)
        {
            if (judged[j] is { } here)
            {
                (Nodes[j], low) = (here, j);
                continue;
            }

            int high = j;
            while (judged[high] is null)
            {
                high++;
            }

            Nodes[j] = NodeFigures.Blend(judged[low]!, judged[high]!, y[j], Math.Log(y[j] / y[low]) / Math.Log(y[high] / y[low]), interpolated: true);
        }
    }

    private static bool AreNearContour(NodeFigures a, NodeFigures b)
    {
        const double Near = 0.1; // a third of a normal score: contours of neighbouring columns and worlds lie there
        bool Turns(double p, double q) => (p < 0.0) != (q < 0.0);
        if (Math.Abs(a.Smallest) < Near || Math.Abs(b.Smallest) < Near || Turns(a.Conforming.Mean, b.Conforming.Mean) || Turns(a.State.Mean, b.State.Mean))
        {
            return true;
        }

        for (int r = 0; r < a.Own.Length; r++)
        {
            if (Turns(a.Own[r].Mean, b.Own[r].Mean))
            {
                return true;
            }
        }

        return false;
    }

    // Golden section about the best node: the smallest margin rises to one peak between the edges.
    private void Climb()
    {
        const double Golden = 0.6180339887498949;
        const int Steps = 5;
        int best = Enumerable.Range(0, Nodes.Length).MaxBy(j => WindowMap.Unfavourable(Nodes[j]));
        double a = Math.Log(Nodes[Math.Max(0, best - 1)].Y), b = Math.Log(Nodes[Math.Min(Nodes.Length - 1, best + 1)].Y);
        Peak = Nodes[best];

        // Far from the requirement no setting of the column will be chosen.
        if (Peak.Smallest < -0.5)
        {
            return;
        }

        NodeFigures At(double log) => Find(WindowAxis.Rounded(Math.Exp(log)));
        double c = b - (Golden * (b - a)), d = a + (Golden * (b - a));
        for (int i = 0; i < Steps; i++)
        {
            double atC = WindowMap.Unfavourable(At(c)), atD = WindowMap.Unfavourable(At(d));
            (a, b) = atC > atD ? (a, d) : (c, b);
            (c, d) = (b - (Golden * (b - a)), a + (Golden * (b - a)));
        }

        Peak = known.Values.MaxBy(WindowMap.Unfavourable)!;

        // Points of the contour have all their digits; a setting has three.
        if (Peak.Y != WindowAxis.Rounded(Peak.Y))
        {
            Peak = Find(WindowAxis.Rounded(Peak.Y));
        }
    }

    // Regula falsi with the Illinois step on ln Y: the smallest margin is smooth but for the kink where its two requirements meet.
    private void Seek()
    {
        var crossings = new List<Crossing>();
        for (int j = 1; j < Nodes.Length; j++)
        {
            var (below, above) = (Nodes[j - 1], Nodes[j]);
            if ((below.Smallest < 0.0) == (above.Smallest < 0.0))
            {
                continue;
            }

            double a = Math.Log(below.Y), b = Math.Log(above.Y), fa = below.Smallest, fb = above.Smallest;
            NodeFigures at = Math.Abs(fa) < Math.Abs(fb) ? below : above;
            for (int i = 0; i < 12 && Math.Abs(at.Smallest) > 2e-5 && b - a > 1e-6; i++)
            {
                double middle = Math.Clamp(a - (fa * (b - a) / (fb - fa)), a + (0.01 * (b - a)), b - (0.01 * (b - a)));
                at = Find(Math.Exp(middle));
                if ((at.Smallest < 0.0) == (below.Smallest < 0.0))
                {
                    (a, fa, fb) = (middle, at.Smallest, 0.5 * fb);
                }
                else
                {
                    (b, fb, fa) = (middle, at.Smallest, 0.5 * fa);
                }
            }

            crossings.Add(Crossing.Of(at, Nodes, known.Values, rising: below.Smallest < 0.0));
        }

        Crossings = crossings;
    }
}
