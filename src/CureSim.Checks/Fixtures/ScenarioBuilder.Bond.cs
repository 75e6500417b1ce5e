using CureSim.Core.Cell;

namespace CureSim.Checks.Fixtures;

/// <content>Fixture, disturbances, substrate, exposure, cure, checks and radiometer.</content>
public sealed partial class ScenarioBuilder
{
    /// <summary>Working distance, m.</summary>
    public ScenarioBuilder Distance(
        double nominal, SpreadLaw spread, Uncertain? setup = null, Uncertain? part = null, double? reference = null) => Fixture(f => f with
        {
            NominalDistanceMetres = nominal,
            ReferenceDistanceMetres = reference ?? nominal,
            DistanceSetup = (setup ?? 0.0).At("fixture.distance.setup", Level.Setup),
            DistancePart = (part ?? 0.0).At("fixture.distance.part", Level.Part),
            Spread = spread,
        });

    /// <summary>Aim along each axis, m, and the beam.</summary>
    public ScenarioBuilder Aim(BeamProfile beam, Uncertain? setup = null, Uncertain? part = null) => Fixture(f => f with
    {
        AimSetup = (setup ?? 0.0).At("fixture.aim.setup", Level.Setup),
        AimPart = (part ?? 0.0).At("fixture.aim.part", Level.Part),
        Beam = beam,
    });

    /// <summary>Tilt of the bond, rad.</summary>
    public ScenarioBuilder Tilt(Uncertain part) => Fixture(f => f with { Tilt = part.At("fixture.tilt", Level.Part) });

    /// <summary>Radius of the bond, m; judged at its worst point unless <paramref name="worstPoint"/> is false.</summary>
    public ScenarioBuilder BondRadius(double metres, bool worstPoint = true) =>
        Fixture(f => f with { BondRadiusMetres = metres, JudgeAtWorstPoint = worstPoint });

    /// <summary>Adds a disturbance; rate in 1/s, factor > 0, shifts in m. Its path is "disturbances." + name.</summary>
    public ScenarioBuilder Disturbance(
        string name, Uncertain rate, Uncertain? factor = null, Uncertain? distance = null, Uncertain? aim = null,
        ClearedBy clearedBy = ClearedBy.Nothing, bool wholeCell = false,
        double byCheck = 0, double byCleaning = 0, double byReplacement = 0)
    {
        string path = "disturbances." + name;
        return With(s => s with
        {
            Disturbances = s.Disturbances.Add(new Disturbance(
                name, path, wholeCell, rate.At(path + ".rate", Level.World), factor?.At(path + ".factor", Level.Arrival),
                distance?.At(path + ".distance", Level.Arrival), aim?.At(path + ".aim", Level.Arrival), clearedBy,
                byCheck, byCleaning, byReplacement)),
        });
    }

    /// <summary>What the light passes before the bond: R of one face, thickness in m, absorption in 1/m.</summary>
    public ScenarioBuilder Substrate(double reflectance, Uncertain thickness, Uncertain absorption, int lotSteps = 0) => With(s => s with
    {
        Substrate = new Substrate(
            reflectance, thickness.At("substrate.thickness", Level.Part), absorption.At("substrate.absorption", Level.SubstrateLot), lotSteps),
    });

    /// <summary>Exposure time, s.</summary>
    public ScenarioBuilder Exposure(double seconds, Uncertain? offset = null, Uncertain? error = null) => With(s => s with
    {
        Exposure = new Exposure(
            seconds, (offset ?? 0.0).At("exposure.offset", Level.Cell), (error ?? 0.0).At("exposure.error", Level.Part)),
    });

    /// <summary>Degree of cure; rate in 1/s at 1 W/cm², induction dose in J/m².</summary>
    public ScenarioBuilder Cure(
        double maximum, Uncertain rate, Uncertain exponent, Uncertain? ratePart = null, Uncertain? induction = null, int lotSteps = 0) =>
        With(s => s with
        {
            Cure = new Cure(
                maximum, rate.At("cure.rate.lot", Level.AdhesiveLot), (ratePart ?? 0.0).At("cure.rate.part", Level.Part),
                exponent.At("cure.exponent", Level.World), (induction ?? 0.0).At("cure.induction", Level.World), lotSteps),
        });

    /// <summary>
    /// The routine check. As given by the interval (in steps) and the target (W/m²) alone: everything beyond a hair is adjusted, nothing is cleaned,
    /// looked at or replaced, one try, never missed or late.
    /// </summary>
    public ScenarioBuilder Checks(
        int intervalSteps, double target, double adjust = 1e-9, double action = 0.05, double? tolerance = 0.1,
        MeasuredAt measuredAt = MeasuredAt.TipAdapter, LegIndication setBy = LegIndication.Mean, bool clean = false,
        bool fixtureCheck = false, WhenShort whenShort = WhenShort.Nothing, int tries = 1, double? legLimit = null,
        double missed = 0, double late = 0, int lateSteps = 0, double toleranceGuard = 0) => With(s => s with
        {
            Checks = new Core.Cell.Checks(
                intervalSteps, target, adjust, action, tolerance, toleranceGuard, measuredAt, setBy, clean, fixtureCheck, whenShort,
                tries, legLimit, missed, late, lateSteps),
        });

    /// <summary>The radiometer; errors are logarithms of factors, drift in 1/s, resolution in W/m².</summary>
    public ScenarioBuilder Radiometer(
        Uncertain? meter = null, Uncertain? calibration = null, double persistence = 0, int calibrationSteps = 0, Uncertain? drift = null,
        Uncertain? session = null, Uncertain? repeatability = null, double resolution = 0, int newMeterSteps = 0) => With(s => s with
        {
            Radiometer = new Radiometer(
                (meter ?? 0.0).At("radiometer.meter", Level.Meter), (calibration ?? 0.0).At("radiometer.calibration", Level.Calibration),
                persistence, calibrationSteps, (drift ?? 0.0).At("radiometer.drift", Level.Calibration),
                (session ?? 0.0).At("radiometer.session", Level.Shift), (repeatability ?? 0.0).At("radiometer.repeatability", Level.Reading),
                resolution, newMeterSteps),
        });

    private ScenarioBuilder Fixture(Func<Fixture, Fixture> change) => With(s => s with { Fixture = change(s.Fixture) });
}
