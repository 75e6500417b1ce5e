using System.Collections.Immutable;
using CureSim.Core.Cell;
using CureSim.Core.Distributions;

namespace CureSim.Studies.Interval;

/// <summary>Something that moves a cell or its readings, and the scenario in which it is perfect.</summary>
/// <param name="Id">Name in tables.</param>
/// <param name="Name">What is perfect, in words: "a radiometer without error".</param>
/// <param name="Limits">What it is called as the input that limits: "the radiometer".</param>
/// <param name="Perfect">The scenario with it perfect; everything else draws alike.</param>
public sealed record Contributor(string Id, string Name, string Limits, Func<Scenario, Scenario> Perfect)
{
    /// <summary>Contributors of any cell.</summary>
    public static ImmutableArray<Contributor> All { get; } =
    [
        new("radiometer", "a radiometer without error", "the radiometer", s => s with { Radiometer = Exact(s.Radiometer) }),
        new("emitter", "an emitter that does not age, wander or fail", "emitter ageing and the loop's headroom", s => s with { Source = Steady(s.Source) }),
        new("sensor", "a loop sensor that does not drift", "the loop's sensor", s => s with { Loop = s.Loop with { SensorDrift = Fixed(s.Loop.SensorDrift, 0.0) } }),
        new("guide", "a guide that loses nothing, with legs alike", "the guide", s => s with { Guide = s.Guide is { } g ? Lossless(g) : null }),
        new("fouling", "tips that stay clean", "fouling", s => s with { Tip = s.Tip with { Fouling = Fixed(s.Tip.Fouling, 0.0) } }),
        new("fixture", "set-ups that are exact", "the fixture's set-up", s => s with { Fixture = SetUpExactly(s.Fixture) }),
        new("disturbances", "no disturbances", "disturbances", s => s with { Disturbances = [] }),
        new("lots", "lots that are alike", "lots of substrate and adhesive", Alike),
        new("parts", "parts that are alike", "the spread of parts", PartsAlike),
    ];

    /// <summary>Those that are not perfect already in a scenario.</summary>
    public static ImmutableArray<Contributor> In(Scenario cell) => [.. All.Where(c => IsIn(c, cell))];

    private static bool IsIn(Contributor c, Scenario s) => c.Id switch
    {
        "sensor" => s.Loop.Kind != LoopKind.None && Moves(s.Loop.SensorDrift),
        "guide" => s.Guide is not null,
        "fouling" => Moves(s.Tip.Fouling),
        "fixture" => s.Fixture.DistanceSetup.IsVarying || s.Fixture.AimSetup.IsVarying,
        "disturbances" => !s.Disturbances.IsEmpty,
        "lots" => s.Substrate is { Absorption.IsFixed: false } || s.Cure is { RateLot.IsFixed: false },
        "radiometer" => !(s.Radiometer.Meter.IsFixed && s.Radiometer.Calibration.IsFixed && s.Radiometer.Repeatability.IsFixed && s.Radiometer.Session.IsFixed && !Moves(s.Radiometer.Drift)),
        _ => true,
    };

    private static bool Moves(Quantity q) => !q.IsFixed || q.Mean != 0.0;

    internal static Quantity Fixed(Quantity q, double value) => q with { Varies = new FixedValue(value), Unknown = null };

    private static Quantity AtMedian(Quantity q) => q with { Varies = new FixedValue(q.Varies.Quantile(0.5)) };

    private static Quantity AtMean(Quantity q) => q with { Varies = new FixedValue(q.Varies.Mean) };

    internal static Radiometer Exact(Radiometer r) => r with
    {
        Meter = Fixed(r.Meter, 0.0), Calibration = Fixed(r.Calibration, 0.0), Drift = Fixed(r.Drift, 0.0), Session = Fixed(r.Session, 0.0), Repeatability = Fixed(r.Repeatability, 0.0),
        ResolutionWattsPerSquareMetre = 0.0,
    };

    // So slow that exp(−h/τ) is exactly 1 in double precision for any h below a million years.
    internal static Source Steady(Source s) => s with
    {
        Ageing = [new AgeingAlternative(1.0, new ExponentialAgeing(Quantity.Of("source.ageing.time", Level.Emitter, 1e40)))],
        FailureBurn = null, Wander = null, BandAgeing = Fixed(s.BandAgeing, 0.0),
    };

    internal static Guide Lossless(Guide g) => g with { Imbalance = Fixed(g.Imbalance, 0.0), Reseat = Fixed(g.Reseat, 0.0), Loss = Fixed(g.Loss, 0.0) };

    internal static Fixture SetUpExactly(Fixture f) => f with { DistanceSetup = AtMean(f.DistanceSetup), AimSetup = Fixed(f.AimSetup, 0.0) };

    internal static Scenario Alike(Scenario s) => s with
    {
        Substrate = s.Substrate is { } b ? b with { Absorption = AtMedian(b.Absorption) } : null,
        Cure = s.Cure is { } c ? c with { RateLot = AtMedian(c.RateLot) } : null,
    };

    private static Scenario PartsAlike(Scenario s) => s with
    {
        Fixture = s.Fixture with { DistancePart = AtMean(s.Fixture.DistancePart), AimPart = Fixed(s.Fixture.AimPart, 0.0), Tilt = Fixed(s.Fixture.Tilt, 0.0) },
        Substrate = s.Substrate is { } b ? b with { Thickness = AtMean(b.Thickness) } : null,
        Cure = s.Cure is { } c ? c with { RatePart = AtMean(c.RatePart) } : null,
        Loop = s.Loop with { Ripple = AtMean(s.Loop.Ripple) },
        Exposure = s.Exposure with { Error = AtMean(s.Exposure.Error) },
    };
}
