using System.Collections.Immutable;
using CureSim.Checks.ClosedForms;
using CureSim.Checks.Comparing;
using CureSim.Checks.Draws;
using CureSim.Checks.Fractions;
using CureSim.Checks.Published;
using CureSim.Checks.States;

namespace CureSim.Checks;

/// <summary>Every check there is: the test suite and the program itself run the same.</summary>
public static class CheckCatalogue
{
    /// <summary>All checks, in the order in which they are listed.</summary>
    public static ImmutableArray<Check> All { get; } = [.. Sampled.Select(s => s.Entry), .. Deterministic()];

    /// <summary>How many checks these are, those that are counted together counted once.</summary>
    public static int Count(IEnumerable<Check> checks) => checks.Select(c => c.CountedWith ?? "one: " + c.Id).Distinct(StringComparer.Ordinal).Count();

    /// <summary>The sampled ones, which can be run with other seeds too.</summary>
    internal static IEnumerable<SampledCheck> Sampled =>
    [
        .. LognormalChain.All(), .. LoopSaturation.All(), .. LoopAndGuideLoss.All(), .. SuddenFailures.All(), .. PlannedReplacement.All(),
        .. DisturbancesOnly.All(), .. DriftBetweenSettings.All(), .. NoisyMeter.All(), .. AimInABeam.All(), .. SlowWander.All(), .. SensorDrift.All(),
        .. HeadsAndLegs.All(), .. FirstPassage.All(), .. CalibrationPersistence.All(), .. UnknownRate.All(), .. DoseOnlyWindow.All(),
        .. CountedAndConditional.All(), .. GumExamples.All(), .. NormalSample.All(), .. SensitivityRows.All(),
    ];

    private static IEnumerable<Check> Deterministic() =>
    [
        .. HandWorkedTimeline.All(), .. SingleFactors.All(), .. LoopSaturation.Roots(), .. NoisyMeter.WithinSettings(), .. DriveOnAGrid.All(), .. SensorDrift.Exact(), .. ConstantFlows.All(), .. DoseOnlyWindow.Plan(),
        .. LevelDraws.All(), .. WiderDraws.All(), .. StateProbabilities.All(), .. SharedStateProbabilities.All(), .. StateIndices.All(),
        .. PublishedChecks.All(),
    ];
}
