using CureSim.Checks.Fixtures;
using CureSim.Core.Cell;
using CureSim.Core.Distributions;
using CureSim.Engine.Block;
using static CureSim.Checks.Fixtures.Uncertain;

namespace CureSim.Checks.Draws;

/// <summary>Every level that is drawn again within a lifetime, each with a cell in which it alone varies.</summary>
internal static class LevelDraws
{
    private const double Step = 28800;
    private const int Steps = 120;
    private const double Target = 2e4;

    public static IEnumerable<Check> All() => Counts().Select(c => c.Entry);

    private static IEnumerable<DrawCount> Counts()
    {
        yield return new(
            "DRAW-EMITTER", Level.Emitter, "initial output, at each planned replacement",
            Cell(1).Irradiance(Near(1e4)).ReplaceEmitterAt(7 * Step), Nominal, (_, k) => k % 7 == 0);
        yield return new(
            "DRAW-EMITTER-OWN", Level.Emitter, "initial output of the second of three heads, at its own failures only",
            Cell(2).Sites(3).OneEmitterASite().Irradiance(Near(1e4)).Failure(Varying(new NormalDistribution(9 * Step, 2 * Step))),
            (t, k) => t.Steps[k].Sites[1].NominalIrradiance, (t, k) => Between(t, k, e => e.What == "emitter failed" && e.Site == 1));
        yield return new(
            "DRAW-GUIDE", Level.Guide, "transmission, at each planned replacement",
            Cell(3).Guide(transmission: Log(), lit: LitDuring.WholeShift, replaceAtLitSeconds: 11 * Step), Nominal, (_, k) => k % 11 == 0);
        yield return new(
            "DRAW-GUIDE-LEG", Level.Guide, "share of the third of three legs, at each planned replacement",
            Cell(4).Sites(3).Guide(imbalance: Log(), lit: LitDuring.WholeShift, replaceAtLitSeconds: 11 * Step),
            (t, k) => t.Steps[k].Sites[2].NominalIrradiance, (_, k) => k % 11 == 0);
        yield return new(
            "DRAW-SETUP", Level.Setup, "working distance, at replacements and when a disturbance of the fixture is put right",
            Cell(5).Distance(0.01, new InverseSquareSpread(0.01), setup: Varying(new NormalDistribution(0, 1e-5))).ReplaceEmitterAt(7 * Step)
                .Disturbance("bracket slips", 1 / (12 * Step), aim: 1e-4, clearedBy: ClearedBy.FixtureCheck).Irradiance(5e4).Checks(5, Target, fixtureCheck: true),
            (t, k) => t.Steps[k].Sites[0].DistanceMetres, (t, k) => k % 7 == 0 || Between(t, k, e => e.What == "put right"));
        yield return new(
            "DRAW-CLEANING", Level.Cleaning, "fouling rate, at each cleaning",
            Cell(6).Tip(Varying(new NormalDistribution(1e-6, 1e-8)), cleaningEffect: 0.9).Irradiance(5e4).Checks(5, Target, clean: true),
            (t, k) => -Math.Log(t.Steps[k].Sites[0].NominalIrradiance / (5e4 * t.Steps[k].Sites[0].Drive)) / t.Steps[k].Sites[0].Exposures, (_, k) => k % 5 == 0);
        yield return new(
            "DRAW-ADHESIVE", Level.AdhesiveLot, "cure rate, at the start of each lot",
            Cell(7).Cure(1, Near(1), 0.7, lotSteps: 9), (t, k) => t.Bonds.First(b => b.Step == k).DegreeOfCure, (_, k) => k % 9 == 0);
        yield return new(
            "DRAW-SUBSTRATE", Level.SubstrateLot, "absorption, at the start of each lot",
            Cell(8).Substrate(0.04, 0.001, Near(200), lotSteps: 6), Nominal, (_, k) => k % 6 == 0);

        // Set at the end of every step, so that the dose of step k shows the reading of step k − 1; commissioning has a session of its own.
        yield return new(
            "DRAW-SHIFT", Level.Shift, "session error of the radiometer, at the start of each shift of two steps",
            Set(9, 1).Clock(Step, Steps, shiftSeconds: 2 * Step).Radiometer(session: Log()), Dose, (_, k) => k % 2 == 1);
        yield return new(
            "DRAW-CALIBRATION", Level.Calibration, "calibration error with persistence ½, at each calibration",
            Set(10, 1).Radiometer(calibration: Log(), persistence: 0.5, calibrationSteps: 8), Dose, (_, k) => k % 8 == 0);
        yield return new(
            "DRAW-METER", Level.Meter, "what calibration does not remove, at each purchase",
            Set(11, 1).Radiometer(meter: Log(), calibrationSteps: 4, newMeterSteps: 20), Dose, (_, k) => k % 20 == 0);
        yield return new(
            "DRAW-READING", Level.Reading, "repeatability, at each setting",
            Set(12, 4).Radiometer(repeatability: Log()), Dose, (_, k) => k % 4 == 0);
        yield return new(
            "DRAW-ARRIVAL", Level.Arrival, "factor of a disturbance that nothing clears, at each step with arrivals",
            Cell(13).Disturbance("knock", 1 / (12 * Step), factor: Varying(new NormalDistribution(0.999, 1e-4))), Nominal,
            (t, k) => Between(t, k, e => e.What == "disturbance"));
        yield return new(
            "DRAW-PART", Level.Part, "ripple, at every exposure",
            Cell(14).Ripple(Log()), Dose, (_, _) => true);
    }

    private static ScenarioBuilder Cell(ulong seed) => new ScenarioBuilder().Clock(Step, Steps).Limit(Response.Dose, 1, 1e6).Run(seed: seed);

    private static ScenarioBuilder Set(ulong seed, int interval) => Cell(seed).Irradiance(5e4).Checks(interval, Target, action: 1e-6, tolerance: 1e-6);

    private static Uncertain Near(double mean) => Varying(new NormalDistribution(mean, 1e-3 * mean));

    private static Uncertain Log() => Varying(new NormalDistribution(0, 1e-3));

    private static double Nominal(LifetimeTrace trace, int step) => trace.Steps[step].Sites[0].NominalIrradiance;

    private static double Dose(LifetimeTrace trace, int step) => trace.Bonds[step].Dose;

    // Something happened after the middle of step k − 1 and up to the middle of step k.
    private static bool Between(LifetimeTrace trace, int k, Func<TraceEvent, bool> what) =>
        trace.Events.Any(e => what(e) && e.Seconds > (k - 0.5) * Step && e.Seconds <= (k + 0.5) * Step);
}
