namespace CureSim.Core.Summaries;

/// <summary>What one lifetime has used and made from its start to the end of a year: running totals, of which the year's own amounts are differences.</summary>
/// <remarks>64 bytes. Everything that a price stands against follows from it and from the scenario: lit and standby hours from parts and exposure time, lost time by cause from the counts.</remarks>
public struct YearLine
{
    /// <summary>Parts made.</summary>
    public double PartsMade;

    /// <summary>Σ over judged states of the conditional nonconforming probability of a part.</summary>
    public double ConditionalParts;

    /// <summary>States judged.</summary>
    public double ConditionalStates;

    /// <summary>Parts found suspect.</summary>
    public double SuspectParts;

    /// <summary>Production time lost, s.</summary>
    public double DowntimeSeconds;

    /// <summary>Checks made.</summary>
    public int Checks;

    /// <summary>Emitters that failed.</summary>
    public int EmittersFailed;

    /// <summary>Emitters replaced as planned, when short, or in a requalification.</summary>
    public int EmittersReplaced;

    /// <summary>Guides replaced.</summary>
    public int Guides;

    /// <summary>Requalifications made.</summary>
    public int Requalifications;

    /// <summary>Checks that found the cell out of tolerance.</summary>
    public int FoundOutOfTolerance;
}
