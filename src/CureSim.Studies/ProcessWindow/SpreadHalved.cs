using System.Collections.Immutable;
using CureSim.Core.Cell;
using CureSim.Core.Distributions;

namespace CureSim.Studies.ProcessWindow;

/// <summary>A spread of the cell and the cell with it halved.</summary>
/// <param name="Id">Name in tables.</param>
/// <param name="Name">In words.</param>
/// <param name="Halved">The cell with it halved about its median; all else draws alike.</param>
public sealed record SpreadHalved(string Id, string Name, Func<Scenario, Scenario> Halved)
{
    private static ImmutableArray<SpreadHalved> All { get; } =
    [
        new("part_distance", "distance from part to part", s => s with { Fixture = s.Fixture with { DistancePart = Half(s.Fixture.DistancePart) } }),
        new("part_aim", "aim from part to part", s => s with { Fixture = s.Fixture with { AimPart = Half(s.Fixture.AimPart) } }),
        new("setup_distance", "distance from set-up to set-up", s => s with { Fixture = s.Fixture with { DistanceSetup = Half(s.Fixture.DistanceSetup) } }),
        new("setup_aim", "aim from set-up to set-up", s => s with { Fixture = s.Fixture with { AimSetup = Half(s.Fixture.AimSetup) } }),
        new("tilt", "tilt", s => s with { Fixture = s.Fixture with { Tilt = Half(s.Fixture.Tilt) } }),
        new("exposure_error", "exposure time", s => s with { Exposure = s.Exposure with { Error = Half(s.Exposure.Error) } }),
        new("ripple", "ripple", s => s with { Loop = s.Loop with { Ripple = Half(s.Loop.Ripple) } }),
        new("sensor_drift", "drift of the loop's sensor", s => s with { Loop = s.Loop with { SensorDrift = Half(s.Loop.SensorDrift) } }),
        new("emitter_irradiance", "output of new emitters", s => s with { Source = s.Source with { Irradiance = Half(s.Source.Irradiance) } }),
        new("wander", "wander of the emitter", s => s.Source.Wander is { } w ? s with { Source = s.Source with { Wander = w with { LogSpread = Scaled(w.LogSpread) } } } : s),
        new("guide_legs", "imbalance of the legs", s => s.Guide is { } g ? s with { Guide = g with { Imbalance = Half(g.Imbalance) } } : s),
        new("guide_reseat", "re-seating of the guide", s => s.Guide is { } g ? s with { Guide = g with { Reseat = Half(g.Reseat) } } : s),
        new("fouling", "fouling (rate)", s => s with { Tip = s.Tip with { Fouling = Scaled(s.Tip.Fouling) } }),
        new("disturbances", "disturbances (how often)", s => s.Disturbances.IsEmpty ? s : s with { Disturbances = [.. s.Disturbances.Select(d => d with { Rate = Scaled(d.Rate) })] }),
        new("substrate_thickness", "thickness of the substrate", s => s.Substrate is { } b ? s with { Substrate = b with { Thickness = Half(b.Thickness) } } : s),
        new("substrate_lot", "absorption from substrate lot to lot", s => s.Substrate is { } b ? s with { Substrate = b with { Absorption = Half(b.Absorption) } } : s),
        new("adhesive_lot", "cure rate from adhesive lot to lot", s => s.Cure is { } c ? s with { Cure = c with { RateLot = Half(c.RateLot) } } : s),
        new("adhesive_part", "cure rate within a lot", s => s.Cure is { } c ? s with { Cure = c with { RatePart = Half(c.RatePart) } } : s),
        new("meter", "the radiometer's persistent error", s => s with { Radiometer = s.Radiometer with { Meter = Half(s.Radiometer.Meter) } }),
        new("calibration", "the radiometer's calibration", s => s with { Radiometer = s.Radiometer with { Calibration = Half(s.Radiometer.Calibration) } }),
        new("session", "the radiometer's session error", s => s with { Radiometer = s.Radiometer with { Session = Half(s.Radiometer.Session) } }),
        new("repeatability", "the radiometer's repeatability", s => s with { Radiometer = s.Radiometer with { Repeatability = Half(s.Radiometer.Repeatability) } }),
        new("checks", "time between checks", s => s.Checks is { IntervalSteps: > 1 } c ? s with { Checks = c with { IntervalSteps = c.IntervalSteps / 2, LateSteps = Math.Min(c.LateSteps, Math.Max(0, (c.IntervalSteps / 2) - 1)) } } : s),
    ];

    /// <summary>Spreads that a cell has.</summary>
    public static ImmutableArray<SpreadHalved> In(Scenario cell) => [.. All.Where(s => s.Halved(cell) != cell)];

    // Records compare by value; what does not vary comes back as it was.
    private static Quantity Half(Quantity q) => q.Varies is FixedValue ? q : q with { Varies = Half(q.Varies) };

    private static Quantity Scaled(Quantity q) => q.Varies is FixedValue { Value: 0.0 } ? q : q.Varies is FixedValue v ? q with { Varies = new FixedValue(0.5 * v.Value) } : q with { Varies = new ScaledDistribution(q.Varies, 0.5) };

    private static IDistribution Half(IDistribution x) => x switch
    {
        NormalDistribution n => new NormalDistribution(n.Mean, 0.5 * n.StandardDeviation),
        LognormalDistribution l => new LognormalDistribution(l.Median, Math.Exp(0.5 * l.SigmaLog)),
        _ => new ScaledDistribution(x, 0.5, 0.5 * x.Quantile(0.5)),
    };
}
