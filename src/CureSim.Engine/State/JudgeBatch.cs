namespace CureSim.Engine.State;

/// <summary>States to be judged together, eight at a time: one entry for each, packed from the first.</summary>
/// <remarks>Entries never look at each other: each comes out as if it were judged alone.</remarks>
public sealed class JudgeBatch
{
    private static readonly double[] NoRow = [];

    /// <summary>Room for <paramref name="room"/> states (a multiple of eight) of a cell with <paramref name="sites"/> sites.</summary>
    public JudgeBatch(int room, int sites)
    {
        LogE = new double[sites][];
        for (int i = 0; i < sites; i++)
        {
            LogE[i] = new double[room];
        }

        Rows = new double[room][];
        Rows.AsSpan().Fill(NoRow);
        LogRate = new double[room];
        LimitShift = new double[room];
        Lane = new int[room];
        Part = new double[room];
        Bond = new double[room];
        Score = new double[room];
        Uppermost = new double[room];
        Lower = new double[room];
        Upper = new double[room];
        Dropped = new double[room];
        Any = new double[room];
        AnyAbove = new double[room];
        NodePart = new double[room];
        NodeBond = new double[room];
        UpperAt = new int[room / Core.Numerics.Lanes.Width];
    }

    /// <summary>Entries in use.</summary>
    public int Count { get; set; }

    /// <summary>ln nominal irradiance, ln W/m², by site and entry.</summary>
    public double[][] LogE { get; }

    /// <summary>Rows of an entry's sites, one after the other; or a single row for all.</summary>
    public double[][] Rows { get; }

    /// <summary>ln cure rate of the adhesive lot, ln 1/s.</summary>
    public double[] LogRate { get; }

    /// <summary>Added to ln of irradiance and dose limits.</summary>
    public double[] LimitShift { get; }

    /// <summary>Lane of the block that an entry stands for.</summary>
    public int[] Lane { get; }

    /// <summary>Out: p of a part.</summary>
    public double[] Part { get; }

    /// <summary>Out: p of a bond.</summary>
    public double[] Bond { get; }

    /// <summary>Out: Φ⁻¹(p of a part), ±40 where p is 0 or 1.</summary>
    public double[] Score { get; }

    /// <summary>Out: largest score of the upper tail of any bond, or a bound on it.</summary>
    public double[] Uppermost { get; }

    /// <summary>Tails of one bond below its limits: scores, then probabilities.</summary>
    internal double[] Lower { get; }

    /// <summary>The same above them, packed: only the vectors that need it.</summary>
    internal double[] Upper { get; }

    /// <summary>All bits set where the upper tail is left out beside a large lower one.</summary>
    internal double[] Dropped { get; }

    /// <summary>Where the upper tails of each vector of entries stand, in vectors; −1: nowhere.</summary>
    internal int[] UpperAt { get; }

    /// <summary>1 − ∏(1 − q) over the bonds of a part so far.</summary>
    internal double[] Any { get; }

    /// <summary>Where bonds move together: the largest tail above so far, while <see cref="Any"/> holds the largest below.</summary>
    internal double[] AnyAbove { get; }

    /// <summary>Sum over the parts of a node.</summary>
    internal double[] NodePart { get; }

    /// <summary>Sum over the bonds of a node.</summary>
    internal double[] NodeBond { get; }

    /// <summary>Fills the last vector's unused places with copies of the last entry.</summary>
    internal int Pad()
    {
        int padded = Core.Numerics.Lanes.Padded(Count);
        for (int k = Count; k < padded; k++)
        {
            foreach (double[] site in LogE)
            {
                site[k] = site[Count - 1];
            }

            Rows[k] = Rows[Count - 1];
            LogRate[k] = LogRate[Count - 1];
            LimitShift[k] = LimitShift[Count - 1];
        }

        return padded;
    }
}
