using CureSim.Core.Cell;
using CureSim.Core.Random;

namespace CureSim.StatisticalTests.Reference;

/// <content>A snapshot of what is drawn above part level.</content>
internal sealed partial class ReferenceLifetime
{
    // The value in force of every quantity above part level, for tests that count redraws.
    private List<LevelValue> LevelsInForce()
    {
        var levels = new List<LevelValue>();
        void Add(Quantity q, int place, double value, string axis = "") => levels.Add(new LevelValue(q.Path + axis, place, value));
        foreach (var e in _emitters)
        {
            Add(_scenario.Source.Irradiance, e.Place, e.FullIrradiance);
            Add(_scenario.Source.BandAgeing, e.Place, e.BandAgeing);
            Add(_scenario.Loop.SensorDrift, e.Place, e.SensorDrift);
        }

        foreach (var g in _guides)
        {
            Add(_scenario.Guide!.Transmission, g.Place, g.LogTransmission);
            Add(_scenario.Guide.Loss, g.Place, g.LossRate);
        }

        foreach (var s in _sites)
        {
            Add(_scenario.Fixture.DistanceSetup, s.Number, s.DistanceOffset);
            Add(_scenario.Fixture.AimSetup, s.Number, s.AimX, ".x");
            Add(_scenario.Fixture.AimSetup, s.Number, s.AimY, ".y");
            Add(_scenario.Tip.Fouling, s.Number, s.Fouling);
            if (_scenario.Guide is { } guide)
            {
                Add(guide.Reseat, s.Number, s.LogReseat);
                Add(guide.Imbalance, s.Number, s.LegFactor);
            }
        }

        foreach (var d in _disturbances)
        {
            Add(d.Kind.Rate, d.Place, d.Rate);
        }

        Add(_scenario.Exposure.Offset, StreamKey.WholeCell, _exposureOffset);
        Add(_scenario.Radiometer.Meter, StreamKey.WholeCell, _meterError);
        Add(_scenario.Radiometer.Calibration, StreamKey.WholeCell, _calibrationError);
        Add(_scenario.Radiometer.Drift, StreamKey.WholeCell, _meterDrift);
        Add(_scenario.Radiometer.Session, StreamKey.WholeCell, _draws.At(_scenario.Radiometer.Session, StreamKey.WholeCell, SessionIndex));
        if (_scenario.Substrate is { } substrate)
        {
            Add(substrate.Absorption, StreamKey.WholeCell, _absorption);
        }

        if (_scenario.Cure is { } cure)
        {
            Add(cure.RateLot, StreamKey.WholeCell, _cureRate);
            Add(cure.Exponent, StreamKey.WholeCell, _cureExponent);
        }

        return levels;
    }
}
