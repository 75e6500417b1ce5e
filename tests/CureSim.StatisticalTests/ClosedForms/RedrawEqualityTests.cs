using CureSim.Checks.Fixtures;
using CureSim.Core.Cell;
using CureSim.Core.Distributions;
using CureSim.StatisticalTests.Engine;
using static CureSim.Checks.Fixtures.Uncertain;

namespace CureSim.StatisticalTests.ClosedForms;

/// <summary>
/// The plain engine draws every level at its events and at no other time (its own tests); here the block engine equals it in a cell where every level
/// varies by its own calendar, and differs from it as soon as one calendar is a step longer.
/// </summary>
public class RedrawEqualityTests
{
    private const double Step = 28800;

    private static Uncertain Near(double mean) => Varying(new NormalDistribution(mean, 0.01 * mean));

    private static Uncertain Log(double sd = 0.01) => Varying(new NormalDistribution(0, sd));

    // Intervals in steps by level; the defaults are pairwise different and mostly without a common divisor.
    private static Scenario Cell(
        int emitter = 7, int guide = 11, int adhesive = 9, int substrate = 6, int shift = 2, int check = 5, int calibration = 8, int meter = 20, ulong seed = 11) =>
        new ScenarioBuilder().Clock(Step, 90, shiftSeconds: shift * Step).Sites(2).Rate(0.01).Run(worlds: 2, lifetimes: 2, partsAStep: 2, seed: seed)
            .Irradiance(Near(5e4)).BandAgeing(Near(1e-9)).Wander(0.01, 10 * Step, true).ReplaceEmitterAt(emitter * Step)
            .OutputSensor(Log(1e-9)).Ripple(Log())
            .Guide(Log(), Log(), Log(), Near(1e-8), LitDuring.WholeShift, replaceAtLitSeconds: guide * Step)
            .Tip(Near(1e-6), cleaningEffect: Near(0.9)).Tilt(Log(0.05))
            .Distance(0.01, new InverseSquareSpread(0.01), setup: Log(1e-4), part: Log(1e-4)).Aim(new GaussianBeam(0.005, 2), setup: Log(1e-4), part: Log(1e-4))
            .Disturbance("bracket slips", 1 / (12 * Step), distance: Near(1e-4), clearedBy: ClearedBy.FixtureCheck)
            .Disturbance("knock", 1 / (30 * Step), factor: Near(0.9), clearedBy: ClearedBy.Nothing, wholeCell: true)
            .Substrate(0.04, Near(0.001), Near(200), lotSteps: substrate)
            .Cure(1, Near(1), Unknown(new NormalDistribution(0.7, 0.05)), ratePart: Log(), lotSteps: adhesive)
            .Exposure(1, error: Log()).Checks(check, 2e4, clean: true, fixtureCheck: true)
            .Radiometer(Log(), Log(), 0.5, calibration, Log(1e-10), Log(), Log(), newMeterSteps: meter)
            .Limit(Response.Dose, 1e2, 1e6).Build();

    [Theory]
    [InlineData(0, 0u)]
    [InlineData(0, 1u)]
    [InlineData(1, 0u)]
    public void EveryLevelByItsCalendar_BothEnginesAreTheSame(int world, uint lifetime) =>
        Assert.Empty(EngineComparison.Differences(Cell(), world, lifetime));

    public static TheoryData<string> Levels => ["emitter", "guide", "adhesive lot", "substrate lot", "shift", "check", "calibration", "meter", "everything"];

    [Theory]
    [MemberData(nameof(Levels))]
    public void OneCalendarAStepLonger_IsFoundOut(string level) => Assert.NotEmpty(EngineComparison.Differences(Cell(), 0, 0, level switch
    {
        "emitter" => Cell(emitter: 8),
        "guide" => Cell(guide: 12),
        "adhesive lot" => Cell(adhesive: 10),
        "substrate lot" => Cell(substrate: 7),
        "shift" => Cell(shift: 3),
        "check" => Cell(check: 6),
        "calibration" => Cell(calibration: 9),
        "meter" => Cell(meter: 21),
        _ => Cell(seed: 12),
    }));
}
