namespace CureSim.Engine.Runs;

/// <summary>What somebody wants of a run beside its summaries. None of it changes a bit of the rest.</summary>
public sealed record Beside
{
    /// <summary>Nothing.</summary>
    public static Beside Nothing { get; } = new();

    /// <summary>Parts that qualifications take beside the sampled ones; null: none.</summary>
    public PartTakings? Takings { get; init; }

    /// <summary>Where doses of single bonds are looked at; null: nowhere.</summary>
    public DoseProbes? Probes { get; init; }

    /// <summary>Where yearly totals of lifetimes go; null: they are not kept.</summary>
    public YearLedger? Ledger { get; init; }
}
