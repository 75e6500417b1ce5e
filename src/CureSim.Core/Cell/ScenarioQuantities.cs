using System.Collections.Immutable;

namespace CureSim.Core.Cell;

/// <summary>Every uncertain input of a scenario, and the scenario with some of them changed.</summary>
public static class ScenarioQuantities
{
    /// <summary>All quantities in the order of the scenario's blocks, fixed ones too.</summary>
    public static ImmutableArray<Quantity> Of(Scenario scenario)
    {
        var all = ImmutableArray.CreateBuilder<Quantity>();
        Map(scenario, q =>
        {
            all.Add(q);
            return q;
        });
        return all.ToImmutable();
    }

    /// <summary>All quantities of the cell that are unknown, one for each path; prices are not among them.</summary>
    public static ImmutableArray<Quantity> Unknown(Scenario scenario) => [.. Of(scenario).Where(q => q.Unknown is not null).DistinctBy(q => q.Path)];

    /// <summary>The scenario with the quantities of a path replaced; the same object when none came out different.</summary>
    public static Scenario With(Scenario scenario, string path, Func<Quantity, Quantity> change)
    {
        ArgumentNullException.ThrowIfNull(change);
        bool differs = false;
        var changed = Map(scenario, q =>
        {
            var now = q.Path == path ? change(q) : q;
            differs |= !now.Equals(q);
            return now;
        });
        return differs ? changed : scenario;
    }

    /// <summary>The scenario with every quantity replaced by what a function makes of it. One that is left as it is stays the same object.</summary>
    public static Scenario Map(Scenario scenario, Func<Quantity, Quantity> change)
    {
        ArgumentNullException.ThrowIfNull(scenario);
        ArgumentNullException.ThrowIfNull(change);
        Quantity? Maybe(Quantity? q) => q is null ? null : change(q);
        return scenario with
        {
            Source = scenario.Source with
            {
                Irradiance = change(scenario.Source.Irradiance),
                Ageing = [.. scenario.Source.Ageing.Select(a => a with { Law = Law(a.Law, change) })],
                Wander = scenario.Source.Wander is { } w ? w with { LogSpread = change(w.LogSpread), Time = change(w.Time) } : null,
                FailureBurn = Maybe(scenario.Source.FailureBurn),
                BandAgeing = change(scenario.Source.BandAgeing),
            },
            Loop = scenario.Loop with { SensorDrift = change(scenario.Loop.SensorDrift), Ripple = change(scenario.Loop.Ripple) },
            Guide = scenario.Guide is { } g
                ? g with { Transmission = change(g.Transmission), Imbalance = change(g.Imbalance), Reseat = change(g.Reseat), Loss = change(g.Loss) }
                : null,
            Tip = scenario.Tip with { Fouling = change(scenario.Tip.Fouling), CleaningEffect = change(scenario.Tip.CleaningEffect) },
            Fixture = scenario.Fixture with
            {
                DistanceSetup = change(scenario.Fixture.DistanceSetup),
                DistancePart = change(scenario.Fixture.DistancePart),
                AimSetup = change(scenario.Fixture.AimSetup),
                AimPart = change(scenario.Fixture.AimPart),
                Tilt = change(scenario.Fixture.Tilt),
            },
            Disturbances =
            [
                .. scenario.Disturbances.Select(d => d with
                {
                    Rate = change(d.Rate), Factor = Maybe(d.Factor), DistanceShift = Maybe(d.DistanceShift), AimShift = Maybe(d.AimShift),
                }),
            ],
            Substrate = scenario.Substrate is { } s ? s with { Thickness = change(s.Thickness), Absorption = change(s.Absorption) } : null,
            Exposure = scenario.Exposure with { Offset = change(scenario.Exposure.Offset), Error = change(scenario.Exposure.Error) },
            Cure = scenario.Cure is { } c
                ? c with { RateLot = change(c.RateLot), RatePart = change(c.RatePart), Exponent = change(c.Exponent), InductionDose = change(c.InductionDose) }
                : null,
            Radiometer = scenario.Radiometer with
            {
                Meter = change(scenario.Radiometer.Meter),
                Calibration = change(scenario.Radiometer.Calibration),
                Drift = change(scenario.Radiometer.Drift),
                Session = change(scenario.Radiometer.Session),
                Repeatability = change(scenario.Radiometer.Repeatability),
            },
        };
    }

    private static AgeingLaw Law(AgeingLaw law, Func<Quantity, Quantity> change) => law switch
    {
        ExponentialAgeing a => a with { TimeConstant = change(a.TimeConstant) },
        TwoStageAgeing a => a with { EarlyPart = change(a.EarlyPart), EarlyTime = change(a.EarlyTime), LateTime = change(a.LateTime) },
        StretchedAgeing a => a with { TimeConstant = change(a.TimeConstant), Shape = change(a.Shape) },
        TableAgeing a => a with { HoursScale = change(a.HoursScale) },
        _ => law,
    };
}
