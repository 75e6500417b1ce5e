using CureSim.Core.Cell;

namespace CureSim.StatisticalTests.Reference;

/// <summary>What happened. In brackets: the meaning of a row's Place, Value and Other where they have one.</summary>
public enum HistoryKind
{
    /// <summary>t = 0.</summary>
    Commissioned,

    /// <summary>The state after commissioning is not qualified.</summary>
    NeverQualified,

    /// <summary>Site set up [site; set-up number].</summary>
    SetUp,

    /// <summary>Tip cleaned or new [site; N left; cleaning number].</summary>
    Cleaned,

    /// <summary>First reading of a setting [site; indication W/m²].</summary>
    Reading,

    /// <summary>Reading at a check [site; indication W/m²; deviation |I/reference − 1|].</summary>
    AsFound,

    /// <summary>Reading after a setting [site; indication W/m²].</summary>
    AsLeft,

    /// <summary>Verdict of a check [site; number of the <see cref="CheckVerdict"/>].</summary>
    Verdict,

    /// <summary>An emitter was set [emitter; drive; set-point W/m²].</summary>
    Setting,

    /// <summary>A leg is beyond the leg limit after setting [site; indication W/m²].</summary>
    LegBeyondLimit,

    /// <summary>A check was made [; scheduled number].</summary>
    Check,

    /// <summary>A scheduled check was not made [; scheduled number].</summary>
    CheckMissed,

    /// <summary>A scheduled check was put off [; scheduled number].</summary>
    CheckLate,

    /// <summary>Parts became suspect [; their number].</summary>
    Suspect,

    /// <summary>An emitter cannot reach the target at full drive and nothing more is done about it in this routine [emitter; as-left W/m²].</summary>
    Short,

    /// <summary>A disturbance arrived or was introduced by an intervention [site or −1; index of its draws].</summary>
    Arrival,

    /// <summary>Disturbances of one kind were put right [site or −1; how many].</summary>
    Cleared,

    /// <summary>An emitter failed suddenly [emitter; burn s].</summary>
    Failure,

    /// <summary>Emitter replaced [emitter; burn s of the old one].</summary>
    EmitterReplaced,

    /// <summary>Guide replaced [guide; lit s of the old one].</summary>
    GuideReplaced,

    /// <summary>The radiometer came back from calibration [; number].</summary>
    Calibration,

    /// <summary>Another radiometer was bought [; number].</summary>
    NewMeter,

    /// <summary>Excursion: see docs/model.md section 4.</summary>
    ExcursionStart,

    /// <summary>Its detection [; start s; parts made since].</summary>
    ExcursionDetected,

    /// <summary>Its end [; start s].</summary>
    ExcursionEnd,

    /// <summary>The alarm told of a saturated loop [emitter; wanted drive].</summary>
    Alarm,

    /// <summary>An event to requalify on was counted [; number of the <see cref="RequalifyEvent"/>].</summary>
    RequalifyEvent,

    /// <summary>The cell was requalified [; number of the <see cref="RequalifyEvent"/> that caused it].</summary>
    Requalified,
}

/// <summary>Verdict on one site at a check.</summary>
public enum CheckVerdict
{
    /// <summary>Within the adjust limit.</summary>
    Leave,

    /// <summary>Within the action limit.</summary>
    Adjust,

    /// <summary>Within the tolerance limit.</summary>
    AdjustAndRecord,

    /// <summary>Beyond the tolerance limit.</summary>
    OutOfTolerance,
}

/// <summary>Why something was replaced.</summary>
public enum ReplacementReason
{
    /// <summary>It had reached its planned life.</summary>
    Planned,

    /// <summary>It failed suddenly.</summary>
    Failure,

    /// <summary>Full drive did not reach the target at a check.</summary>
    Short,

    /// <summary>As part of a requalification.</summary>
    Requalification,
}

/// <summary>One row of a lifetime's history; what Place, Value and Other mean stands at the kind.</summary>
/// <param name="TimeSeconds">Production clock.</param>
/// <param name="Kind">What happened.</param>
/// <param name="Place">Site, emitter or guide; −1: the cell.</param>
/// <param name="Value">First number.</param>
/// <param name="Other">Second number.</param>
/// <param name="Name">Name of a disturbance or reason of a replacement, else empty.</param>
public readonly record struct HistoryEvent(
    double TimeSeconds, HistoryKind Kind, int Place = -1, double Value = double.NaN, double Other = double.NaN, string Name = "");
