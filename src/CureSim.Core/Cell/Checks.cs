namespace CureSim.Core.Cell;

/// <summary>Where the radiometer is held.</summary>
public enum MeasuredAt
{
    /// <summary>Against the tip: distance, aim, tilt and their disturbances are not in the reading.</summary>
    TipAdapter,

    /// <summary>In place of the bond: distance and aim (not part deviations) are in the reading.</summary>
    BondFixture,
}

/// <summary>What a check replaces when full drive cannot reach the target.</summary>
public enum WhenShort
{
    /// <summary>Nothing is replaced: flagged, runs at full drive.</summary>
    Nothing,

    /// <summary>The emitter.</summary>
    Emitter,

    /// <summary>The guide.</summary>
    Guide,

    /// <summary>Whichever has lost more ln output since it was installed.</summary>
    LargerLoss,
}

/// <summary>How the readings of a shared emitter's legs make one indication to set by.</summary>
public enum LegIndication
{
    /// <summary>Their mean.</summary>
    Mean,

    /// <summary>The lowest.</summary>
    Weakest,
}

/// <summary>The routine check with the radiometer, and setting.</summary>
/// <param name="IntervalSteps">Steps between checks; the first at t = interval.</param>
/// <param name="TargetWattsPerSquareMetre">Indication to set to.</param>
/// <param name="AdjustLimit">|I/reference − 1| beyond which the output is adjusted.</param>
/// <param name="ActionLimit">Beyond which the adjustment is recorded and causes are looked for; also the limit for being short.</param>
/// <param name="ToleranceLimit">Beyond which product since the last good check is suspect; null: found from the window.</param>
/// <param name="ToleranceGuardFactor">With a tolerance from the window: how many standard uncertainties of the radiometer are taken off.</param>
/// <param name="MeasuredAt">Where the radiometer is held.</param>
/// <param name="SetBy">Mean or weakest leg (shared emitter).</param>
/// <param name="Clean">True when tips are cleaned at every check.</param>
/// <param name="FixtureCheck">True when the fixture is looked at.</param>
/// <param name="WhenShort">What is replaced.</param>
/// <param name="Tries">Settings made at most, each after an as-left reading still beyond the adjust limit.</param>
/// <param name="LegLimit">A leg further than this from the target after setting is reported; null: not looked at.</param>
/// <param name="MissedProbability">Chance that a scheduled check is not made.</param>
/// <param name="LateProbability">Chance that a scheduled check is late.</param>
/// <param name="LateSteps">By how many steps; below the interval.</param>
public sealed record Checks(
    int IntervalSteps,
    double TargetWattsPerSquareMetre,
    double AdjustLimit,
    double ActionLimit,
    double? ToleranceLimit,
    double ToleranceGuardFactor,
    MeasuredAt MeasuredAt,
    LegIndication SetBy,
    bool Clean,
    bool FixtureCheck,
    WhenShort WhenShort,
    int Tries,
    double? LegLimit,
    double MissedProbability,
    double LateProbability,
    int LateSteps)
{
    /// <summary>Checks that follow every installation of an emitter, beside the calendar; null: none.</summary>
    public ChecksAfterReplacement? AfterReplacement { get; init; }

    /// <summary>Drive of the loop above which a check is made at once, ratio of full drive; null: the drive is not looked at.</summary>
    public double? WhenDriveAbove { get; init; }

    /// <summary>True when the alarm of a saturated loop is followed by a check.</summary>
    public bool WhenAlarm { get; init; }

    /// <summary>True when checks are made at other times than those of the calendar.</summary>
    public bool AreUneven => AfterReplacement is not null || WhenDriveAbove is not null || WhenAlarm;
}

/// <summary>Closer checks while an emitter is new: at s + IntervalSteps, s + 2·IntervalSteps … up to s + ForSteps, s the end of the step in which it was installed.</summary>
/// <param name="IntervalSteps">Steps between them.</param>
/// <param name="ForSteps">How long they go on, steps.</param>
public sealed record ChecksAfterReplacement(int IntervalSteps, int ForSteps);

/// <summary>The radiometer. Errors are natural logarithms of factors on the true value.</summary>
/// <param name="Meter">b_meter, what calibration does not remove; level meter.</param>
/// <param name="Calibration">b_cal; level calibration; successive ones correlated by Persistence.</param>
/// <param name="Persistence">ρ between successive calibrations (applied to the normal score of the draw).</param>
/// <param name="CalibrationSteps">Steps between calibrations; 0: never recalibrated.</param>
/// <param name="Drift">Drift of the logarithm, 1/s since the last calibration; level calibration.</param>
/// <param name="Session">Session error; level shift.</param>
/// <param name="Repeatability">ε_rep; level reading, one a reading and site.</param>
/// <param name="ResolutionWattsPerSquareMetre">Indications are rounded to it; 0: not rounded.</param>
/// <param name="NewMeterSteps">Steps between purchases of another radiometer; 0: the same one throughout.</param>
public sealed record Radiometer(
    Quantity Meter,
    Quantity Calibration,
    double Persistence,
    int CalibrationSteps,
    Quantity Drift,
    Quantity Session,
    Quantity Repeatability,
    double ResolutionWattsPerSquareMetre,
    int NewMeterSteps);

/// <summary>Production time lost by each kind of event, s.</summary>
public sealed record Downtimes(
    double CheckSeconds,
    double EmitterReplacementSeconds,
    double GuideReplacementSeconds,
    double FailureSeconds,
    double RequalificationSeconds);
