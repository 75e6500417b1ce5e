namespace CureSim.Reports.Rendering;

/// <summary>Places labels of vertical lines in rows above the plot: no label over another, no line through a label.</summary>
internal static class LabelRows
{
    private const double Gap = 7;
    private const double LineClearance = 3;
    private const int MostRows = 6;
    private const int MostSteps = 20_000;

    /// <summary>A label in its place.</summary>
    /// <param name="Left">Left end of the text.</param>
    /// <param name="Width">Width of the text.</param>
    /// <param name="Row">0 is next to the plot.</param>
    /// <param name="Line">Where its line stands; not-a-number for a text without one.</param>
    /// <param name="LineRows">Rows the line passes through.</param>
    public readonly record struct Placed(double Left, double Width, int Row, double Line, int LineRows)
    {
        public double Right => Left + Width;
    }

    /// <summary>Places the labels in as few rows as a search finds: over the line where no other runs that near, else beside it.</summary>
    /// <param name="labels">Place of the line and width of the text.</param>
    /// <param name="left">Left end of the rows.</param>
    /// <param name="right">Right end of the rows.</param>
    /// <returns>In the order given.</returns>
    public static Placed[] Place(IReadOnlyList<(double Line, double Width)> labels, double left, double right)
    {
        int[] order = [.. Enumerable.Range(0, labels.Count).OrderBy(i => labels[i].Line).ThenBy(i => i)];
        List<Placed>? taken = null;
        for (int rows = 1; rows <= MostRows && taken is null; rows++)
        {
            List<Placed> trial = [];
            int steps = 0;
            taken = Search(labels, order, left, right, rows, trial, ref steps) ? trial : null;
        }

        taken ??= Stair(labels, order, left, right);
        var result = new Placed[labels.Count];
        for (int k = 0; k < order.Length; k++)
        {
            result[order[k]] = taken[k];
        }

        return result;
    }

    /// <summary>The lowest row in which a text without a line has room at the left.</summary>
    public static int RowAtLeft(IReadOnlyList<Placed> taken, double left, double width)
    {
        int row = 0;
        while (taken.Any(t => Clash(new Placed(left, width, row, double.NaN, 0), t)))
        {
            row++;
        }

        return row;
    }

    /// <summary>True when a text stands on another, or a line runs through one.</summary>
    public static bool Clash(Placed a, Placed b) =>
        (a.Row == b.Row && a.Left < b.Right + Gap && b.Left < a.Right + Gap) || Crosses(a, b) || Crosses(b, a);

    /// <summary>Depth first, left to right; gives up after a fixed number of steps, so the work is bounded and the same each time.</summary>
    private static bool Search(
        IReadOnlyList<(double Line, double Width)> labels, int[] order, double left, double right, int rows, List<Placed> taken, ref int steps)
    {
        if (taken.Count == order.Length)
        {
            return true;
        }

        foreach (Placed candidate in Candidates(labels, order[taken.Count], left, right, rows))
        {
            if (++steps > MostSteps)
            {
                return false;
            }

            if (taken.Any(t => Clash(candidate, t)))
            {
                continue;
            }

            taken.Add(candidate);
            if (Search(labels, order, left, right, rows, taken, ref steps))
            {
                return true;
            }

            taken.RemoveAt(taken.Count - 1);
        }

        return false;
    }

    private static IEnumerable<Placed> Candidates(
        IReadOnlyList<(double Line, double Width)> labels, int index, double left, double right, int rows)
    {
        var (line, width) = labels[index];
        bool lonely = !labels.Where((l, k) => k != index && Math.Abs(l.Line - line) < (width / 2) + LineClearance).Any();
        var over = new Placed(Over(line, width, left, right), width, 0, line, 0);
        Placed[] beside = [new(line + LineClearance + 1, width, 0, line, 1), new(line - LineClearance - 1 - width, width, 0, line, 1)];
        Placed[] inside = [.. beside.Where(p => p.Left >= left && p.Right <= right)];
        Placed[] ways = lonely ? [over, .. inside] : [.. inside, over];
        for (int row = 0; row < rows; row++)
        {
            foreach (Placed way in ways)
            {
                yield return way with { Row = row, LineRows = way.LineRows + row };
            }
        }
    }

    /// <summary>A row for each label, the leftmost highest: needs room, but never hides one.</summary>
    private static List<Placed> Stair(IReadOnlyList<(double Line, double Width)> labels, int[] order, double left, double right) =>
        [.. order.Select((i, k) => new Placed(
            Math.Min(labels[i].Line + LineClearance + 1, Math.Max(left, right - labels[i].Width)), labels[i].Width, order.Length - 1 - k, labels[i].Line,
            order.Length - k))];

    private static double Over(double line, double width, double left, double right) =>
        Math.Clamp(line - (width / 2), left, Math.Max(left, right - width));

    private static bool Crosses(Placed line, Placed text) =>
        line.LineRows > text.Row && line.Line > text.Left - LineClearance && line.Line < text.Right + LineClearance;
}
