using CureSim.Core.Cell;

namespace CureSim.Core.Summaries;

/// <summary>What is kept of every lifetime: fixed size, so memory grows with lifetimes only, never with parts.</summary>
public struct LifetimeRecord
{
    /// <summary>World and lifetime within it.</summary>
    public int World;

    /// <summary>Number of the lifetime within its world.</summary>
    public uint Lifetime;

    /// <summary>Batch (leaf number modulo 64).</summary>
    public int Batch;

    /// <summary>True when the state was not qualified after commissioning.</summary>
    public bool NeverQualified;

    /// <summary>Time to requalify, s; NaN when none came before the horizon.</summary>
    public double RequalifySeconds;

    /// <summary>Its cause; meaningless without a time.</summary>
    public RequalifyEvent RequalifyCause;

    /// <summary>Start of the first excursion, s; NaN when none.</summary>
    public double FirstExcursionSeconds;

    /// <summary>Detection of the first excursion, s; NaN when it was not detected (or there was none).</summary>
    public double FirstDetectionSeconds;

    /// <summary>Parts made between start and detection (or end) of the first excursion.</summary>
    public double FirstExcursionParts;

    /// <summary>Excursions.</summary>
    public int Excursions;

    /// <summary>Time out of the qualified state, s.</summary>
    public double OutSeconds;

    /// <summary>… of it before detection, s.</summary>
    public double OutUndetectedSeconds;

    /// <summary>Time with a nominal bond outside the window, s.</summary>
    public double OutOfWindowSeconds;

    /// <summary>… of it before detection, s.</summary>
    public double OutOfWindowUndetectedSeconds;

    /// <summary>Parts made, by the clock (not sampled).</summary>
    public double PartsMade;

    /// <summary>Parts made since the last good check when one found the cell out of tolerance.</summary>
    public double SuspectParts;

    /// <summary>Production time lost, s.</summary>
    public double DowntimeSeconds;

    /// <summary>Bonds sampled.</summary>
    public double BondsSampled;

    /// <summary>… of them nonconforming.</summary>
    public double BondsNonconforming;

    /// <summary>Parts sampled.</summary>
    public double PartsSampled;

    /// <summary>… of them nonconforming in any bond.</summary>
    public double PartsNonconforming;

    /// <summary>Σ over judged states of the conditional nonconforming probability of a bond.</summary>
    public double ConditionalBonds;

    /// <summary>Σ over judged states of the conditional nonconforming probability of a part.</summary>
    public double ConditionalParts;

    /// <summary>States judged for the conditional fraction.</summary>
    public double ConditionalStates;

    /// <summary>Σ dose over bonds sampled, J/m² (for means by lifetime).</summary>
    public double DoseSum;

    /// <summary>Checks made.</summary>
    public int Checks;

    /// <summary>As-found verdicts by check (the worst site): leave, adjust, adjust and record, out of tolerance.</summary>
    public int FoundLeave;

    /// <summary>Checks whose worst verdict was adjust.</summary>
    public int FoundAdjust;

    /// <summary>Checks whose worst verdict was adjust and record.</summary>
    public int FoundRecord;

    /// <summary>Checks whose worst verdict was out of tolerance.</summary>
    public int FoundOutOfTolerance;

    /// <summary>Checks left out.</summary>
    public int ChecksMissed;

    /// <summary>Checks beside the calendar: after an installation, or because the drive or the alarm asked for one.</summary>
    public int ChecksExtra;

    /// <summary>Production time of the last check made, s; 0 without. What was made since is an open bracket: nobody has looked at it yet.</summary>
    public double LastCheckSeconds;

    /// <summary>Emitters replaced as planned.</summary>
    public int EmittersPlanned;

    /// <summary>Emitters that failed.</summary>
    public int EmittersFailed;

    /// <summary>Emitters replaced because they were short, or in a requalification.</summary>
    public int EmittersShort;

    /// <summary>Guides replaced as planned.</summary>
    public int GuidesPlanned;

    /// <summary>Guides replaced because they were short.</summary>
    public int GuidesShort;

    /// <summary>Requalify events counted.</summary>
    public int RequalifyEvents;

    /// <summary>Requalifications made.</summary>
    public int Requalifications;

    /// <summary>Disturbances that arrived or were introduced.</summary>
    public int Disturbances;

    /// <summary>Settings after which the cell ran at full drive below target by more than the action limit.</summary>
    public int LeftShort;

    /// <summary>Settings after which a leg was further from the target than the leg limit.</summary>
    public int LegsOutOfLimit;
}
