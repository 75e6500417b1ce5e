namespace CureSim.Reports.Rendering;

/// <summary>Places labels of vertical lines in rows above the plot: no label over another, no line through a label.</summary>
internal static class LabelRows
{
    private const double Gap = 7;
    private const double LineClearance = 3;
    private const int MostRows = 8;

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

    /// <summary>Places the labels, each in the lowest row with room: over its line where no other line runs that near, else beside it.</summary>
    /// <param name="labels">Place of the line and width of the text.</param>
    /// <param name="left">Left end of the rows.</param>
    /// <param name="right">Right end of the rows.</param>
    /// <returns>In the order given.</returns>
    /// <remarks>One pass cannot see what comes after it, so four are made (from either end, either side first) and the flattest is kept.</remarks>
    public static Placed[] Place(IReadOnlyList<(double Line, double Width)> labels, double left, double right)
    {
        int[] order = [.. Enumerable.Range(0, labels.Count).OrderBy(i => labels[i].Line).ThenBy(i => i)];
        Placed[] best = [];
        (int, int) lowest = (int.MaxValue, 0);
        foreach (bool rightFirst in (bool[])[true, false])
        {
            foreach (int[] way in (int[][])[order, [.. order.Reverse()]])
            {
                Placed[] places = Pass(labels, way, left, right, rightFirst);
                (int, int) cost = places.Length == 0 ? (0, 0) : (places.Max(p => p.Row), places.Sum(p => p.Row));
                if (cost.CompareTo(lowest) < 0)
                {
                    (best, lowest) = (places, cost);
                }
            }
        }

        return best;
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

    private static Placed[] Pass(IReadOnlyList<(double Line, double Width)> labels, int[] order, double left, double right, bool rightFirst)
    {
        List<Placed> taken = [];
        var result = new Placed[labels.Count];
        foreach (int i in order)
        {
            var (line, width) = labels[i];
            bool lonely = !labels.Where((l, k) => k != i && Math.Abs(l.Line - line) < (width / 2) + LineClearance).Any();
            Placed place = Candidates(line, width, left, right, lonely, rightFirst).FirstOrDefault(c => taken.All(t => !Clash(c, t)));
            if (place.Width == 0)
            {
                // More labels than rows: the uppermost row takes the rest, rather than losing one.
                place = new Placed(Over(line, width, left, right), width, MostRows, line, MostRows);
            }

            taken.Add(place);
            result[i] = place;
        }

        return result;
    }

    private static IEnumerable<Placed> Candidates(double line, double width, double left, double right, bool lonely, bool rightFirst)
    {
        var over = new Placed(Over(line, width, left, right), width, 0, line, 0);
        var beside = new[] { new Placed(line + LineClearance + 1, width, 0, line, 1), new Placed(line - LineClearance - 1 - width, width, 0, line, 1) };
        IEnumerable<Placed> sides = (rightFirst ? beside : beside.Reverse()).Where(p => p.Left >= left && p.Right <= right);
        Placed[] ways = lonely ? [over, .. sides] : [.. sides, over];
        for (int row = 0; row < MostRows; row++)
        {
            foreach (Placed way in ways)
            {
                yield return way with { Row = row, LineRows = way.LineRows + row };
            }
        }
    }

    private static double Over(double line, double width, double left, double right) =>
        Math.Clamp(line - (width / 2), left, Math.Max(left, right - width));

    private static bool Crosses(Placed line, Placed text) =>
        line.LineRows > text.Row && line.Line > text.Left - LineClearance && line.Line < text.Right + LineClearance;
}
