using System.Collections.Immutable;

namespace CureSim.Core.Cell;

/// <summary>One way of timing the checks that is compared with others; limits and all else are those of the scenario's own checks.</summary>
/// <param name="Name">As printed.</param>
/// <param name="IntervalSteps">Steps between the checks of the calendar.</param>
/// <param name="AfterReplacement">Closer checks while an emitter is new; null: none.</param>
/// <param name="WhenDriveAbove">Drive above which a check is made; null: none.</param>
/// <param name="WhenAlarm">True when the alarm is followed by a check.</param>
public sealed record CheckTiming(string Name, int IntervalSteps, ChecksAfterReplacement? AfterReplacement, double? WhenDriveAbove, bool WhenAlarm)
{
    /// <summary>True when all checks are those of the calendar.</summary>
    public bool IsPlain => AfterReplacement is null && WhenDriveAbove is null && !WhenAlarm;
}

/// <summary>What the interval study compares and requires; it changes nothing of a run.</summary>
/// <param name="Candidates">Timings compared; empty: the calendar ladder from a shift to a year.</param>
/// <param name="ReliabilityTarget">Proportion of checks that must find the cell in tolerance.</param>
/// <param name="NonconformingLimit">Fraction of nonconforming parts that is allowed; null: not limited.</param>
/// <param name="AdjustLimits">Adjust limits crossed with the interval; empty: chosen from the scenario's own.</param>
/// <param name="ActionLimits">Action limits crossed with the interval; empty: chosen from the scenario's own.</param>
public sealed record IntervalStudy(
    ImmutableArray<CheckTiming> Candidates,
    double ReliabilityTarget,
    double? NonconformingLimit,
    ImmutableArray<double> AdjustLimits,
    ImmutableArray<double> ActionLimits)
{
    /// <summary>Default of <see cref="ReliabilityTarget"/>: an end-of-period reliability that is common for measuring equipment (common practice, no source).</summary>
    public const double UsualTarget = 0.95;

    /// <summary>What is taken when a scenario says nothing.</summary>
    public static readonly IntervalStudy Usual = new([], UsualTarget, null, [], []);
}
