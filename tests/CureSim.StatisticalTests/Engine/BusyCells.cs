using CureSim.Checks.Fixtures;
using CureSim.Core.Cell;
using CureSim.Core.Distributions;

namespace CureSim.StatisticalTests.Engine;

/// <summary>Cells of our own invention in which everything that the model knows happens often.</summary>
internal static class BusyCells
{
    private const double Hour = 3600;

    public static IEnumerable<(string Name, Scenario Cell)> All()
    {
        yield return ("lamp", Lamp());
        yield return ("lamp, weakest leg, no requalification", Lamp() with { Requalification = new([RequalifyEvent.OutOfToleranceFound, RequalifyEvent.StateLost, RequalifyEvent.LoopSaturated], true, 1.33), Checks = Lamp().Checks! with { SetBy = LegIndication.Weakest, Tries = 3, MissedProbability = .1, LateProbability = .2, LateSteps = 3 } });
        yield return ("lamp, nominal", Lamp() with { Requalification = Lamp().Requalification with { RequiredCapability = null } });
        yield return ("lamp, no alarm, every event", Lamp() with { Loop = Lamp().Loop with { Alarm = false }, Requalification = new([.. Enum.GetValues<RequalifyEvent>()], false, 1.0) });
        yield return ("heads", Heads());
        yield return ("heads, two parts at once", Heads() with { Production = Heads().Production with { SitesPerPart = 2 } });
        yield return ("heads, loop and wander", Heads() with { Loop = new(LoopKind.OutputSensor, N("loop.drift", Level.Cell, 0, 0.02 / (1000 * Hour)), N("loop.ripple", Level.Part, 0, .01), false), Source = Heads().Source with { Wander = new(Quantity.Of("source.wander.spread", Level.Emitter, .02), Quantity.Of("source.wander.time", Level.Emitter, 40 * Hour), true), DriveStep = .01 } });
        yield return ("lamp, closer checks after a replacement", Lamp() with { Checks = Lamp().Checks! with { IntervalSteps = 40, AfterReplacement = new(3, 20), MissedProbability = .1, LateProbability = .2, LateSteps = 3 } });
        yield return ("lamp, checks by drive and alarm", Lamp() with { Requalification = Lamp().Requalification with { On = [RequalifyEvent.StateLost] }, Checks = Lamp().Checks! with { IntervalSteps = 50, WhenDriveAbove = .9, WhenAlarm = true } });
        yield return ("heads, closer checks and by drive", Heads() with { Loop = new(LoopKind.OutputSensor, N("loop.drift", Level.Cell, 0, 0.02 / (1000 * Hour)), N("loop.ripple", Level.Part, 0, .01), true), Checks = Heads().Checks! with { IntervalSteps = 60, AfterReplacement = new(4, 30), WhenDriveAbove = .7, WhenAlarm = true } });
        yield return ("no checks", Heads() with { Checks = null, Production = Heads().Production with { StepCount = 60 } });
        yield return ("bond fixture", Lamp() with { Checks = Lamp().Checks! with { MeasuredAt = MeasuredAt.BondFixture, TargetWattsPerSquareMetre = 34000, WhenShort = WhenShort.LargerLoss } });
        yield return ("cure", Lamp() with { Cure = new(.98, L("cure.rate_lot", Level.AdhesiveLot, .9, 1.08), N("cure.rate_part", Level.Part, 0, .03), new("cure.exponent", Level.World, new FixedValue(1), new NormalDistribution(.65, .05)), Quantity.Of("cure.induction_dose", Level.World, 2000), 30), Window = new([new(Response.Dose, 40000, 70000, 100000), new(Response.DegreeOfCure, .8, null, null)], true) });
    }

    public static Quantity N(string path, Level level, double mean, double sd) => new(path, level, new NormalDistribution(mean, sd));

    public static Quantity L(string path, Level level, double median, double gsd) => new(path, level, new LognormalDistribution(median, gsd));

    public static Scenario Lamp() => new ScenarioBuilder().Sites(2).Clock(8 * Hour, 400).Rate(.0667).Run(1, 8, 3, 11).Build() with
    {
        Source = new("arc lamp", EmitterArrangement.Shared, LitDuring.WholeShift, 2 * Hour, .5, N("source.irradiance", Level.Emitter, 64000, 3200), 2,
            [new(1, new TwoStageAgeing(Quantity.Of("source.ageing.early_part", Level.Emitter, .15), L("source.ageing.early_time", Level.Emitter, 260 * Hour, 1.3), L("source.ageing.late_time", Level.Emitter, 3000 * Hour, 1.2)))],
            new(Quantity.Of("source.wander.spread", Level.Emitter, .01), Quantity.Of("source.wander.time", Level.Emitter, 30 * Hour), false),
            new("source.failure", Level.Emitter, new LognormalDistribution(900 * Hour, 1.8)), 1200 * Hour, .01, .2, 1, L("source.band_ageing", Level.Emitter, .02 / (1000 * Hour), 1.4)),
        Loop = new(LoopKind.OutputSensor, N("loop.drift", Level.Cell, 0, .008 / (1000 * Hour)), N("loop.ripple", Level.Part, 0, .005), true),
        Guide = new(N("guide.transmission", Level.Guide, 0, .02), N("guide.imbalance", Level.Guide, 0, .02), N("guide.reseat", Level.Setup, 0, .01), L("guide.loss", Level.Guide, .15 / (1000 * Hour), 1.5), LitDuring.Exposures, 500 * Hour),
        Tip = new(L("tip.fouling", Level.Cleaning, 2e-6, 1.6), Quantity.Of("tip.cleaning_effect", Level.Cleaning, .9)),
        Fixture = new(.01, .01, N("fixture.distance.setup", Level.Setup, 0, .2e-3), N("fixture.distance.part", Level.Part, 0, .25e-3), N("fixture.aim.setup", Level.Setup, 0, .2e-3), N("fixture.aim.part", Level.Part, 0, .3e-3), N("fixture.tilt", Level.Part, 0, .03), new ConeMeanSpread(2.5e-3, 17 * Math.PI / 180), new GaussianBeam(4e-3, 2), .3e-3, true),
        Substrate = new(.05, N("substrate.thickness", Level.Part, 1.2e-3, .05e-3), N("substrate.absorption", Level.SubstrateLot, 250, 12.5), 28),
        Exposure = new(3, Quantity.Of("exposure.offset", Level.Cell, .01), N("exposure.error", Level.Part, 0, .008)),
        Checks = new(15, 36000, .025, .05, .10, 0, MeasuredAt.TipAdapter, LegIndication.Mean, true, true, WhenShort.Emitter, 1, .05, 0, 0, 0),
        Radiometer = new(N("radiometer.meter", Level.Meter, 0, .02), N("radiometer.calibration", Level.Calibration, 0, .025), .5, 100, N("radiometer.drift", Level.Calibration, 0, .01 / (3000 * Hour)), N("radiometer.session", Level.Shift, 0, .004), N("radiometer.repeatability", Level.Reading, 0, .01), 10, 250),
        Downtimes = new(600, 1800, 1800, 7200, 14400),
        Window = new([new(Response.Dose, 40000, 70000, 100000)], false),
        Disturbances =
        [
            new("slip", "disturbances.slip", false, Quantity.Of("disturbances.slip.rate", Level.World, 1 / (300 * Hour)), null, L("disturbances.slip.distance", Level.Arrival, .8e-3, 1.6), null, ClearedBy.FixtureCheck, .02, .02, .1),
            new("knock", "disturbances.knock", true, Quantity.Of("disturbances.knock.rate", Level.World, 1 / (500 * Hour)), L("disturbances.knock.factor", Level.Arrival, .93, 1.03), null, L("disturbances.knock.aim", Level.Arrival, .5e-3, 1.5), ClearedBy.BadIndication, 0, 0, .05),
            new("kink", "disturbances.kink", false, Quantity.Of("disturbances.kink.rate", Level.World, 1 / (700 * Hour)), L("disturbances.kink.factor", Level.Arrival, .96, 1.02), null, null, ClearedBy.GuideReplacement, 0, 0, 0),
        ],
        Requalification = new([RequalifyEvent.OutOfToleranceFound, RequalifyEvent.StateLost, RequalifyEvent.LoopSaturated], false, 1.33),
    };

    public static Scenario Heads() => Lamp() with
    {
        Production = Lamp().Production with { SiteCount = 4, SitesPerPart = 4 },
        Source = new("LED", EmitterArrangement.OnePerSite, LitDuring.Exposures, 0, 0, N("source.irradiance", Level.Emitter, 55000, 2500), 1,
            [new(1, new StretchedAgeing(L("source.ageing.time", Level.Emitter, 900 * Hour, 1.3), Quantity.Of("source.ageing.shape", Level.Emitter, .7)))],
            null, new("source.failure", Level.Emitter, new LognormalDistribution(500 * Hour, 1.8)), 400 * Hour, 0, 0, .9, Quantity.Of("source.band_ageing", Level.Emitter, 0)),
        Loop = new(LoopKind.None, Quantity.Of("loop.drift", Level.Cell, 0), N("loop.ripple", Level.Part, 0, .01), false),
        Guide = null,
        Checks = new(15, 33000, .02, .05, .08, 0, MeasuredAt.TipAdapter, LegIndication.Mean, false, true, WhenShort.Emitter, 2, null, 0, 0, 0),
    };
}
