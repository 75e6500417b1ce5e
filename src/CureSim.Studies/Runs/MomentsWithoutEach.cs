using CureSim.Core.Summaries;

namespace CureSim.Studies.Runs;

/// <summary>What all pieces but one leave of the moments by response and site, for one piece after the other; the rest of the summary stays empty.</summary>
internal static class MomentsWithoutEach
{
    /// <summary>One summary for each piece left out, always the same object: use it before the next is asked for.</summary>
    public static IEnumerable<CellSummary> Of(IReadOnlyList<CellSummary> pieces)
    {
        var layout = pieces[0].Layout;
        var after = new Sums[pieces.Count];
        after[^1] = new Sums(layout);
        for (int j = pieces.Count - 1; j > 0; j--)
        {
            after[j - 1] = after[j].And(pieces[j]);
        }

        var before = new Sums(layout);
        var without = new CellSummary(layout, withTimeline: false);
        for (int j = 0; j < pieces.Count; j++)
        {
            before.And(after[j]).Write(without);
            yield return without;
            before = before.And(pieces[j]);
        }
    }

    private sealed class Sums(SummaryLayout layout)
    {
        private readonly Moments[,] bySite = new Moments[layout.Responses.Length, layout.SiteCount];
        private readonly double[,] withinSum = new double[layout.Responses.Length, layout.SiteCount];
        private readonly double[,] withinGroups = new double[layout.Responses.Length, layout.SiteCount];

        public Sums And(CellSummary piece) => And(piece.BySite, piece.WithinSum, piece.WithinGroups);

        public Sums And(Sums other) => And(other.bySite, other.withinSum, other.withinGroups);

        public void Write(CellSummary into)
        {
            Array.Copy(bySite, into.BySite, bySite.Length);
            Array.Copy(withinSum, into.WithinSum, withinSum.Length);
            Array.Copy(withinGroups, into.WithinGroups, withinGroups.Length);
        }

        private Sums And(Moments[,] moments, double[,] sum, double[,] groups)
        {
            var both = new Sums(layout);
            for (int r = 0; r < layout.Responses.Length; r++)
            {
                for (int s = 0; s < layout.SiteCount; s++)
                {
                    both.bySite[r, s] = bySite[r, s];
                    both.bySite[r, s].Merge(moments[r, s]);
                    both.withinSum[r, s] = withinSum[r, s] + sum[r, s];
                    both.withinGroups[r, s] = withinGroups[r, s] + groups[r, s];
                }
            }

            return both;
        }
    }
}
