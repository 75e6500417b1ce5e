using CureSim.Core.Cell;

namespace CureSim.Checks.Fixtures;

/// <summary>
/// Builds a <see cref="Scenario"/> in SI units with everything off that is not asked for: no checks, no loop, flat beam, no dependence
/// on distance, no disturbances, open bond, no cure, only dose limited, nothing ages and nothing varies.
/// </summary>
/// <remarks>
/// As built: one site, E0 = 10⁴ W/m² (1 W/cm²), 1 s exposures, so a dose of 10⁴ J/m² (1 J/cm²) in a window from half to twice that;
/// 100 steps of one 8 h shift, 0.02 parts a second; <c>capability: none</c>, no event asks for requalification; one world, one lifetime.
/// </remarks>
public sealed partial class ScenarioBuilder
{
    private Scenario _scenario = Plain();
    private int? _statedLegs;

    /// <summary>The scenario as it stands. Unless said otherwise, irradiance is stated for as many legs as there are sites.</summary>
    public Scenario Build() =>
        _scenario with { Source = _scenario.Source with { StatedLegs = _statedLegs ?? _scenario.Production.SiteCount } };

    /// <summary>Any change that has no method of its own.</summary>
    public ScenarioBuilder With(Func<Scenario, Scenario> change)
    {
        _scenario = change(_scenario);
        return this;
    }

    /// <summary>Steps of the production clock; a shift is as long as a step unless given.</summary>
    public ScenarioBuilder Clock(double stepSeconds, int steps, double? shiftSeconds = null) => With(s => s with
    {
        Production = s.Production with { StepSeconds = stepSeconds, StepCount = steps, ShiftSeconds = shiftSeconds ?? stepSeconds },
    });

    /// <summary>Parts made per second of up-time by the whole cell.</summary>
    public ScenarioBuilder Rate(double partsPerSecond) =>
        With(s => s with { Production = s.Production with { PartsPerSecond = partsPerSecond } });

    /// <summary>Bond positions; one part occupies all of them unless given.</summary>
    public ScenarioBuilder Sites(int count, int? sitesPerPart = null) => With(s => s with
    {
        Production = s.Production with { SiteCount = count, SitesPerPart = sitesPerPart ?? count },
    });

    /// <summary>Worlds, lifetimes in each, sampled parts in each step and the seed.</summary>
    public ScenarioBuilder Run(int worlds = 1, int lifetimes = 1, int partsAStep = 1, ulong seed = 1) =>
        With(s => s with { Run = new RunSettings(worlds, lifetimes, partsAStep, seed) });

    /// <summary>Production time lost by each kind of event, s.</summary>
    public ScenarioBuilder Downtime(
        double check = 0, double emitter = 0, double guide = 0, double failure = 0, double requalification = 0) =>
        With(s => s with { Downtimes = new Downtimes(check, emitter, guide, failure, requalification) });

    /// <summary>Limits on one response, SI; replaces earlier ones on the same response.</summary>
    public ScenarioBuilder Limit(Response response, double? lower = null, double? upper = null) => With(s => s with
    {
        Window = s.Window with
        {
            Limits = [.. s.Window.Limits.Where(l => l.Response != response)
                .Append(new SpecificationLimits(response, lower, null, upper)).OrderBy(l => l.Response)],
        },
    });

    /// <summary>Takes the limits on one response away.</summary>
    public ScenarioBuilder NoLimit(Response response) => With(s => s with
    {
        Window = s.Window with { Limits = [.. s.Window.Limits.Where(l => l.Response != response)] },
    });

    /// <summary>Irradiance and dose limits are in the units of the radiometer in use.</summary>
    public ScenarioBuilder LimitsInMeterUnits() => With(s => s with { Window = s.Window with { InStudyMeterUnits = true } });

    /// <summary>Required state index; null: qualified while every nominal bond is inside.</summary>
    public ScenarioBuilder Capability(double? required) =>
        With(s => s with { Requalification = s.Requalification with { RequiredCapability = required } });

    /// <summary>Events to requalify on; nothing physical follows unless <paramref name="recordOnly"/> is false.</summary>
    public ScenarioBuilder RequalifyOn(bool recordOnly, params RequalifyEvent[] events) => With(s => s with
    {
        Requalification = s.Requalification with { On = [.. events.Order()], RecordOnly = recordOnly },
    });

    /// <summary>Starts from the plant's present state.</summary>
    public ScenarioBuilder Now(PresentState? now) => With(s => s with { Now = now });

    private static Scenario Plain() => new(
        "plain",
        new Production(0.02, 28800, 100, 28800, 28800, 5 * 28800, 250 * 28800, 1, 1),
        new Source(
            "plain", EmitterArrangement.Shared, LitDuring.WholeShift, 0, 0,
            Quantity.Of("source.irradiance", Level.Emitter, 1e4), 1, [new AgeingAlternative(1, NoAgeing())],
            null, null, null, 0, 0, 1, Quantity.Of("source.band_ageing", Level.Emitter, 0)),
        new Loop(LoopKind.None, Quantity.Of("loop.drift", Level.Cell, 0), Quantity.Of("loop.ripple", Level.Part, 0), false),
        null,
        new Tip(Quantity.Of("tip.fouling", Level.Cleaning, 0), Quantity.Of("tip.cleaning_effect", Level.Cleaning, 1)),
        new Fixture(
            0.01, 0.01, Quantity.Of("fixture.distance.setup", Level.Setup, 0), Quantity.Of("fixture.distance.part", Level.Part, 0),
            Quantity.Of("fixture.aim.setup", Level.Setup, 0), Quantity.Of("fixture.aim.part", Level.Part, 0),
            Quantity.Of("fixture.tilt", Level.Part, 0), new NoSpread(), new FlatBeam(), 0, false),
        [],
        null,
        new Exposure(1, Quantity.Of("exposure.offset", Level.Cell, 0), Quantity.Of("exposure.error", Level.Part, 0)),
        null,
        null,
        new Radiometer(
            Quantity.Of("radiometer.meter", Level.Meter, 0), Quantity.Of("radiometer.calibration", Level.Calibration, 0), 0, 0,
            Quantity.Of("radiometer.drift", Level.Calibration, 0), Quantity.Of("radiometer.session", Level.Shift, 0),
            Quantity.Of("radiometer.repeatability", Level.Reading, 0), 0, 0),
        new Downtimes(0, 0, 0, 0, 0),
        new Window([new SpecificationLimits(Response.Dose, 5e3, null, 2e4)], false),
        new Requalification([], true, null),
        null,
        new RunSettings(1, 1, 1, 1));

    // So slow that exp(−h/τ) is exactly 1 in double precision for any h below a million years.
    private static ExponentialAgeing NoAgeing() => new(Quantity.Of("source.ageing.time", Level.Emitter, 1e40));
}
