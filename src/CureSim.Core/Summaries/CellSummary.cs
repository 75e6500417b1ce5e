using CureSim.Core.Cell;

namespace CureSim.Core.Summaries;

/// <summary>
/// Everything that is kept of a set of lifetimes except their records. Size depends on the layout, not on how many lifetimes or parts it has seen.
/// </summary>
public sealed class CellSummary : IMergeable<CellSummary>
{
    /// <summary>Number of moments at which the spread of the state index over cells is kept: start, just before a check, end.</summary>
    public const int IndexMoments = 3;

    /// <summary>An empty summary.</summary>
    public CellSummary(SummaryLayout layout, bool withTimeline)
    {
        Layout = layout;
        int responses = layout.Responses.Length;
        BySite = new Moments[responses, layout.SiteCount];
        ByBin = new Moments[responses, layout.BinCount];
        WithinSum = new double[responses, layout.SiteCount];
        WithinGroups = new double[responses, layout.SiteCount];
        Histograms = new LogHistogram[responses, layout.SiteCount];
        BelowLower = new long[responses];
        AboveUpper = new long[responses];
        for (int r = 0; r < responses; r++)
        {
            for (int s = 0; s < layout.SiteCount; s++)
            {
                Histograms[r, s] = new LogHistogram(layout.Responses[r].Bins);
            }
        }

        BondsByBin = new long[layout.BinCount];
        NonconformingByBin = new long[layout.BinCount];
        EventsByBin = new int[Enum.GetValues<CountedEvent>().Length, layout.BinCount];
        IndexAt = new int[IndexMoments][];
        for (int i = 0; i < IndexMoments; i++)
        {
            IndexAt[i] = new int[SummaryLayout.IndexBins + 2];
        }

        QualifiedAtBin = new int[layout.BinCount];
        if (withTimeline)
        {
            Fans = new int[responses, layout.BinCount][];
            IndexByBin = new int[layout.BinCount][];
            for (int b = 0; b < layout.BinCount; b++)
            {
                IndexByBin[b] = new int[SummaryLayout.IndexBins + 2];
                for (int r = 0; r < responses; r++)
                {
                    Fans[r, b] = new int[layout.Responses[r].FanBins.Count + 2];
                }
            }
        }
    }

    /// <summary>Its shape.</summary>
    public SummaryLayout Layout { get; }

    /// <summary>Lifetimes seen.</summary>
    public long Lifetimes { get; set; }

    /// <summary>Moments by response and site.</summary>
    public Moments[,] BySite { get; }

    /// <summary>Moments by response and time bin, all sites.</summary>
    public Moments[,] ByBin { get; }

    /// <summary>Sum over lifetimes and steps of the sample variance (n − 1) of the parts of one lifetime, step and site.</summary>
    public double[,] WithinSum { get; }

    /// <summary>Number of variances in <see cref="WithinSum"/>.</summary>
    public double[,] WithinGroups { get; }

    /// <summary>Fine histograms by response and site (of 1 − X for the degree of cure).</summary>
    public LogHistogram[,] Histograms { get; }

    /// <summary>Bonds below the lower limit, by response.</summary>
    public long[] BelowLower { get; }

    /// <summary>Bonds above the upper limit, by response.</summary>
    public long[] AboveUpper { get; }

    /// <summary>Bonds sampled, by time bin.</summary>
    public long[] BondsByBin { get; }

    /// <summary>Nonconforming bonds, by time bin.</summary>
    public long[] NonconformingByBin { get; }

    /// <summary>Counts of events by kind and time bin.</summary>
    public int[,] EventsByBin { get; }

    /// <summary>State index over cells at the start, just before a check (all checks pooled), and at the end.</summary>
    public int[][] IndexAt { get; }

    /// <summary>Cells qualified at the last step of each time bin.</summary>
    public int[] QualifiedAtBin { get; }

    /// <summary>Shares of variance by level.</summary>
    public LevelShares Shares { get; } = new();

    /// <summary>Percentile fans by response and time bin (first part of each step); null in pieces that keep no timeline.</summary>
    public int[,][]? Fans { get; }

    /// <summary>State index over cells by time bin; null in pieces that keep no timeline.</summary>
    public int[][]? IndexByBin { get; }

    /// <inheritdoc/>
    public void Merge(CellSummary later)
    {
        if (!ReferenceEquals(Layout, later.Layout) && Layout.BinCount != later.Layout.BinCount)
        {
            throw new ArgumentException("summaries of different layouts cannot be merged", nameof(later));
        }

        Lifetimes += later.Lifetimes;
        for (int r = 0; r < Layout.Responses.Length; r++)
        {
            for (int s = 0; s < Layout.SiteCount; s++)
            {
                BySite[r, s].Merge(later.BySite[r, s]);
                WithinSum[r, s] += later.WithinSum[r, s];
                WithinGroups[r, s] += later.WithinGroups[r, s];
                Histograms[r, s].Merge(later.Histograms[r, s]);
            }

            for (int b = 0; b < Layout.BinCount; b++)
            {
                ByBin[r, b].Merge(later.ByBin[r, b]);
                if (Fans is not null && later.Fans is not null)
                {
                    Add(Fans[r, b], later.Fans[r, b]);
                }
            }

            BelowLower[r] += later.BelowLower[r];
            AboveUpper[r] += later.AboveUpper[r];
        }

        for (int b = 0; b < Layout.BinCount; b++)
        {
            BondsByBin[b] += later.BondsByBin[b];
            NonconformingByBin[b] += later.NonconformingByBin[b];
            QualifiedAtBin[b] += later.QualifiedAtBin[b];
            for (int e = 0; e < EventsByBin.GetLength(0); e++)
            {
                EventsByBin[e, b] += later.EventsByBin[e, b];
            }

            if (IndexByBin is not null && later.IndexByBin is not null)
            {
                Add(IndexByBin[b], later.IndexByBin[b]);
            }
        }

        for (int i = 0; i < IndexMoments; i++)
        {
            Add(IndexAt[i], later.IndexAt[i]);
        }

        Shares.Merge(later.Shares);
    }

    private static void Add(int[] into, int[] from)
    {
        for (int i = 0; i < into.Length; i++)
        {
            into[i] += from[i];
        }
    }
}
