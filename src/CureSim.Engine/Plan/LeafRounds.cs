namespace CureSim.Engine.Plan;

/// <summary>Sizes of the rounds of a run that goes on until its figures are precise enough.</summary>
/// <remarks>
/// A round is 4,096 lifetimes: 64 leaves of 64, one for every batch. From the 33rd round on, rounds grow so that one adds about a sixteenth to what is there:
/// looking costs time in proportion to all that has been simulated, and few looks keep the bias of stopping at a lucky moment small.
/// The sizes depend on what has been simulated only, never on threads or time.
/// </remarks>
public static class LeafRounds
{
    /// <summary>Lifetimes in a round: every batch gets one full leaf.</summary>
    public const int Lifetimes = Leaves.Full * Leaves.Batches;

    /// <summary>Least worlds in a round: with fewer, their scatter says too little about the error of their mean.</summary>
    public const int LeastWorlds = 16;

    /// <summary>Rounds that one look at the figures is worth, as a part of the rounds done.</summary>
    private const int Growth = 16;

    /// <summary>Worlds in a round: at least 16, and so many that they hold 4,096 lifetimes.</summary>
    public static int Worlds(int lifetimesPerWorld) => Math.Max(LeastWorlds, (Lifetimes + lifetimesPerWorld - 1) / lifetimesPerWorld);

    /// <summary>How many to simulate in all after the next round: lifetimes of one world, or worlds.</summary>
    /// <param name="done">Simulated so far.</param>
    /// <param name="round">Size of a round.</param>
    /// <param name="most">The cap.</param>
    public static int Next(int done, int round, int most) =>
        (int)Math.Min(most, done + ((long)round * Math.Max(1, done / round / Growth)));
}
