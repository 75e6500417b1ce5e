using CureSim.Core.Cell;
using CureSim.Core.Numerics;
using CureSim.Core.Random;

namespace CureSim.StatisticalTests.Reference;

/// <content>Reading and setting: docs/model.md section 3.</content>
internal sealed partial class ReferenceLifetime
{
    private long SessionIndex => _step < 0 ? 0 : 1 + (long)Math.Floor(_step * Delta / _scenario.Production.ShiftSeconds);

    // What the radiometer shows at a site, W/m².
    private double Read(SitePlace site, double time)
    {
        var radiometer = _scenario.Radiometer;
        double measured = FullOutput(site.Emitter) * site.Emitter.Drive * Path(site);
        if (_scenario.Checks!.MeasuredAt == MeasuredAt.BondFixture)
        {
            measured *= NominalGeometry(site);
        }

        double session = _draws.At(radiometer.Session, StreamKey.WholeCell, SessionIndex);
        double repeat = _draws.At(radiometer.Repeatability, site.Number, Draw.ReadingIndex(_step, site.ReadingsInStep++));
        double error = _meterError + _calibrationError + (_meterDrift * (time - _calibratedAt)) + session + repeat;
        double indication = measured * BlockMath.Exp(error);
        double resolution = radiometer.ResolutionWattsPerSquareMetre;
        return resolution > 0 ? Math.Round(indication / resolution, MidpointRounding.ToEven) * resolution : indication;
    }

    // G with part deviations at their means and no deviation of aim.
    private double NominalGeometry(SitePlace site)
    {
        var s = StateOf(site);
        double d = Math.Max(s.DistanceMetres + _partQuantities.Distance.Mean, BondEquations.LeastDistanceMetres);
        double offset = Math.Sqrt((s.AimXMetres * s.AimXMetres) + (s.AimYMetres * s.AimYMetres));
        return BondEquations.Spread(_scenario.Fixture, d) * BondEquations.Beam(_scenario.Fixture, offset)
            * BondEquations.Tilt(_partQuantities.Tilt.Mean);
    }

    private double ReadAll(EmitterPlace emitter, double time, HistoryKind kind, double[] indications)
    {
        for (int i = 0; i < emitter.Sites.Length; i++)
        {
            indications[i] = Read(_sites[emitter.Sites[i]], time);
            Say(time, kind, emitter.Sites[i], indications[i]);
        }

        return _scenario.Checks!.SetBy == LegIndication.Mean ? indications.Average() : indications.Min();
    }

    private void Set(EmitterPlace emitter, double time, bool installed)
    {
        emitter.KnownSaturated = false;
        if (_scenario.Checks is not { } checks)
        {
            emitter.Drive = _scenario.Source.Drive;
            emitter.SetPoint = SensedAtFullDrive(emitter) * emitter.Drive;
            emitter.WantedDrive = emitter.Drive;
            emitter.SensorAge = 0;
            Say(time, HistoryKind.Setting, emitter.Number, emitter.Drive, emitter.SetPoint);
            return;
        }

        double target = checks.TargetWattsPerSquareMetre;
        var readings = new double[emitter.Sites.Length];
        var asLeft = new double[emitter.Sites.Length];
        for (int attempt = 0; attempt < Math.Max(1, checks.Tries); attempt++)
        {
            if (installed && attempt == 0)
            {
                emitter.Drive = 1.0;
            }
            else
            {
                Settle(emitter);
            }

            double indication = ReadAll(emitter, time, HistoryKind.Reading, readings);
            if (_scenario.Loop.Kind == LoopKind.OutputSensor)
            {
                double full = SensedAtFullDrive(emitter);
                emitter.SetPoint = Math.Min(full * emitter.Drive * target / indication, full);
                emitter.SensorAge = 0;
                Settle(emitter);
            }
            else
            {
                emitter.Drive = OnGrid(emitter.Drive * target / indication);
            }

            Say(time, HistoryKind.Setting, emitter.Number, emitter.Drive, emitter.SetPoint);
            emitter.AsLeft = ReadAll(emitter, time, HistoryKind.AsLeft, asLeft);
            if (Math.Abs((emitter.AsLeft / target) - 1) <= checks.AdjustLimit)
            {
                break;
            }
        }

        for (int i = 0; i < emitter.Sites.Length; i++)
        {
            var site = _sites[emitter.Sites[i]];
            site.Reference = HasLegs ? asLeft[i] : target;
            site.BracketParts = _history.PartsMade;
            if (HasLegs && Math.Abs((asLeft[i] / target) - 1) > checks.LegLimit)
            {
                Say(time, HistoryKind.LegBeyondLimit, site.Number, asLeft[i]);
            }
        }
    }

    // At full drive and still below the target by more than the action limit.
    private bool IsShort(EmitterPlace emitter) =>
        emitter.Drive >= 1.0 - 1e-12 // a grid of steps may miss 1 by rounding
        && emitter.AsLeft < _scenario.Checks!.TargetWattsPerSquareMetre * (1 - _scenario.Checks.ActionLimit);
}
