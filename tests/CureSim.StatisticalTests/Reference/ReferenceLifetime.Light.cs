using CureSim.Core.Cell;
using CureSim.Core.Numerics;

namespace CureSim.StatisticalTests.Reference;

/// <content>Factors of the irradiance, the loop and the state that is judged: docs/model.md section 2.</content>
internal sealed partial class ReferenceLifetime
{
    private static double Wander(EmitterPlace e) =>
        BlockMath.Exp(e.WanderScore - (0.5 * e.WanderSpread * e.WanderSpread));

    // E0·r·w
    private static double FullOutput(EmitterPlace e) => e.FullIrradiance * e.Ageing(e.BurnSeconds) * Wander(e);

    // V: w only when the sensor sees it.
    private double SensedAtFullDrive(EmitterPlace e) =>
        e.FullIrradiance * e.Ageing(e.BurnSeconds) * (_scenario.Source.Wander is { SeenBySensor: false } ? 1.0 : Wander(e));

    // g
    private double SensorGain(EmitterPlace e) =>
        _scenario.Loop.Kind == LoopKind.OutputSensor ? BlockMath.Exp(e.SensorDrift * e.SensorAge) : 1.0;

    private double SensedOutput(EmitterPlace e) => SensorGain(e) * SensedAtFullDrive(e) * e.Drive;

    // Nearest grid step within [u_min, 1]; halves to the even step.
    private double OnGrid(double drive)
    {
        double step = _scenario.Source.DriveStep;
        double nearest = step > 0 ? Math.Round(drive / step, MidpointRounding.ToEven) * step : drive;
        return Math.Min(Math.Max(nearest, _scenario.Source.DriveMinimum), 1.0);
    }

    // The loop holds its reading at the set-point, as far as it can.
    private void Settle(EmitterPlace e)
    {
        if (_scenario.Loop.Kind == LoopKind.None)
        {
            return;
        }

        e.WantedDrive = e.SetPoint / (SensorGain(e) * SensedAtFullDrive(e));
        e.Drive = OnGrid(e.WantedDrive);
    }

    private bool IsSaturated(EmitterPlace e) => _scenario.Loop.Kind == LoopKind.OutputSensor && e.WantedDrive > SaturatedAbove;

    private IEnumerable<DisturbanceEffect> EffectsAt(SitePlace site) =>
        _disturbances.Where(d => d.Sites.Contains(site.Number)).SelectMany(d => d.Effects);

    // A
    private double Path(SitePlace site)
    {
        double a = 1.0;
        if (site.Guide is { } guide)
        {
            a *= BlockMath.Exp(guide.LogTransmission - (guide.LossRate * guide.LitSeconds)) * site.LegFactor * BlockMath.Exp(site.LogReseat);
        }

        a *= BlockMath.Exp(-site.Fouling * site.Exposures);
        foreach (var effect in EffectsAt(site))
        {
            a *= effect.Factor;
        }

        return a;
    }

    private SiteState StateOf(SitePlace site)
    {
        var e = site.Emitter;
        double band = BlockMath.Exp(-e.BandAgeing * e.BurnSeconds);
        double distance = _scenario.Fixture.NominalDistanceMetres + site.DistanceOffset;
        double x = site.AimX;
        double y = site.AimY;
        foreach (var effect in EffectsAt(site))
        {
            distance += effect.Distance;
            x += effect.AimX;
            y += effect.AimY;
        }

        return new SiteState(e.Number, FullOutput(e) * e.Drive * Path(site) * band, distance, x, y);
    }

    private ReferenceState State() => new(
        _scenario, [.. _sites.Select(StateOf)], _partQuantities, [.. _scenario.Window.Limits.Select(InTrueUnits)],
        _exposureOffset, _absorption, _cureRate, _cureExponent, _inductionDose);

    // Limits found with the radiometer in use: its persistent error is in them.
    private SpecificationLimits InTrueUnits(SpecificationLimits stated)
    {
        if (!_scenario.Window.InStudyMeterUnits || stated.Response == Response.DegreeOfCure)
        {
            return stated;
        }

        double toTrue = BlockMath.Exp(-_firstMeterError);
        return stated with { Lower = stated.Lower * toTrue, Target = stated.Target * toTrue, Upper = stated.Upper * toTrue };
    }
}
