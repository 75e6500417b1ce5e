namespace CureSim.Reports.Rendering;

/// <summary>Places labels in a column so that none overlaps another and each stays as near its wish as that allows.</summary>
internal static class LabelSpread
{
    /// <summary>Centres of the labels, in the order given.</summary>
    /// <param name="wishes">Wished centres.</param>
    /// <param name="heights">Heights.</param>
    /// <param name="top">Upper end of the column.</param>
    /// <param name="bottom">Lower end; overrun when the labels do not fit.</param>
    /// <remarks>
    /// Least squares of the shifts under fixed order: with the heights above each label taken off, the order is a rising sequence, so pooling
    /// neighbours that violate it is the exact solution.
    /// </remarks>
    public static double[] Place(IReadOnlyList<double> wishes, IReadOnlyList<double> heights, double top, double bottom)
    {
        int[] order = [.. Enumerable.Range(0, wishes.Count).OrderBy(i => wishes[i]).ThenBy(i => i)];
        double[] offsets = new double[order.Length];
        double sum = 0;
        for (int k = 0; k < order.Length; k++)
        {
            offsets[k] = sum + (heights[order[k]] / 2);
            sum += heights[order[k]];
        }

        var pools = new List<(double Total, int Count)>();
        for (int k = 0; k < order.Length; k++)
        {
            pools.Add((wishes[order[k]] - offsets[k], 1));
            while (pools.Count > 1 && pools[^2].Total / pools[^2].Count > pools[^1].Total / pools[^1].Count)
            {
                var last = pools[^1];
                pools.RemoveAt(pools.Count - 1);
                pools[^1] = (pools[^1].Total + last.Total, pools[^1].Count + last.Count);
            }
        }

        double highest = Math.Max(top, bottom - sum);
        double[] centres = new double[order.Length];
        int next = 0;
        foreach (var (total, count) in pools)
        {
            double start = Math.Clamp(total / count, top, highest);
            for (int i = 0; i < count; i++, next++)
            {
                centres[order[next]] = start + offsets[next];
            }
        }

        return centres;
    }
}
