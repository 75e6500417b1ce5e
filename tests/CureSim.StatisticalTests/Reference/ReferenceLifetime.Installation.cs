using CureSim.Core.Cell;
using CureSim.Core.Distributions;
using CureSim.Core.Numerics;
using CureSim.Core.Random;

namespace CureSim.StatisticalTests.Reference;

/// <content>What is drawn anew at which event: the table of levels of docs/model.md section 1.</content>
internal sealed partial class ReferenceLifetime
{
    private int _purchases = -1;
    private int _calibrations = -1;
    private double _meterError;
    private double _calibrationScore;
    private double _calibrationError;
    private double _meterDrift;
    private double _calibratedAt;
    private double _firstMeterError;

    private static int LotOf(int step, int lotSteps) => lotSteps == 0 ? 0 : step / lotSteps;

    private void StartLots(int step)
    {
        if (_scenario.Substrate is { } substrate)
        {
            _absorption = _draws.At(substrate.Absorption, StreamKey.WholeCell, LotOf(step, substrate.LotSteps));
        }

        if (_scenario.Cure is { } cure)
        {
            _cureRate = _draws.At(cure.RateLot, StreamKey.WholeCell, LotOf(step, cure.LotSteps));
        }
    }

    private void InstallEmitter(EmitterPlace emitter)
    {
        var source = _scenario.Source;
        int index = ++emitter.Installation;
        double legs = source.Arrangement == EmitterArrangement.Shared ? (double)source.StatedLegs / _sites.Length : 1.0;
        emitter.FullIrradiance = _draws.At(source.Irradiance, emitter.Place, index) * legs;
        emitter.Ageing = AgeingCurve.Of(_ageingLaw, q => _draws.At(q, emitter.Place, index));
        emitter.BandAgeing = _draws.At(source.BandAgeing, emitter.Place, index);
        emitter.FailureBurn = FailureBurnOf(emitter, 0);
        emitter.NewSince = _step + 1;
        _alarmAnswered = false;
        emitter.BurnSeconds = 0;
        emitter.BurnAtEndOfStep = null;
        emitter.KnownSaturated = false;
        if (source.Wander is { } wander)
        {
            emitter.WanderSpread = _draws.At(wander.LogSpread, emitter.Place, index);
            emitter.WanderTime = _draws.At(wander.Time, emitter.Place, index);
            emitter.WanderScore = emitter.WanderSpread * _draws.Score(DrawDomain.Cell, "source.wander.start", emitter.Place, index);
        }
    }

    private double FailureBurnOf(EmitterPlace emitter, double survived) => FailureBurnOf(emitter, emitter.Installation, survived);

    // An emitter that is known to have burnt for some time has not failed before: its failure time is drawn from what is left of the distribution.
    private double FailureBurnOf(EmitterPlace emitter, int installation, double survived)
    {
        if (_scenario.Source.FailureBurn is not { } failure)
        {
            return double.PositiveInfinity;
        }

        if (survived <= 0)
        {
            return _draws.At(failure, emitter.Place, installation);
        }

        double scale = _draws.Unknown(failure);
        double before = failure.Varies.Cdf(survived / scale);
        double u = _draws.Uniform(DrawDomain.Cell, failure.Path, emitter.Place, installation);
        return scale * failure.Varies.Quantile(before + (u * (1 - before)));
    }

    private void InstallGuide(GuidePlace guide)
    {
        var model = _scenario.Guide!;
        int index = ++guide.Installation;
        guide.LogTransmission = _draws.At(model.Transmission, guide.Place, index);
        guide.LossRate = _draws.At(model.Loss, guide.Place, index);
        guide.LitSeconds = 0;
        if (!HasLegs)
        {
            return;
        }

        // n draws divided by their mean; a leg's draw has the place of its site.
        double[] shares = [.. guide.Sites.Select(s => BlockMath.Exp(_draws.At(model.Imbalance, s, index)))];
        double mean = shares.Average();
        foreach (int s in guide.Sites)
        {
            _sites[s].LegFactor = shares[s] / mean;
        }
    }

    private void SetUp(SitePlace site, double time)
    {
        var fixture = _scenario.Fixture;
        int index = ++site.SetUpNumber;
        site.DistanceOffset = _draws.At(fixture.DistanceSetup, site.Number, index);
        site.AimX = _draws.At(fixture.AimSetup, fixture.AimSetup.Path + ".x", site.Number, index);
        site.AimY = _draws.At(fixture.AimSetup, fixture.AimSetup.Path + ".y", site.Number, index);
        if (_scenario.Guide is { } guide)
        {
            site.LogReseat = _draws.At(guide.Reseat, site.Number, index);
        }

        Say(time, HistoryKind.SetUp, site.Number, index);
    }

    // Commissioning and a new guide: nothing on the tip, a new fouling rate.
    private void NewTip(SitePlace site)
    {
        int index = ++site.CleaningNumber;
        site.Fouling = _draws.At(_scenario.Tip.Fouling, site.Number, index);
        site.Exposures = 0;
    }

    private void Clean(SitePlace site, double time)
    {
        int index = ++site.CleaningNumber;
        site.Exposures *= 1 - _draws.At(_scenario.Tip.CleaningEffect, site.Number, index);
        site.Fouling = _draws.At(_scenario.Tip.Fouling, site.Number, index);
        Say(time, HistoryKind.Cleaned, site.Number, site.Exposures, index);
    }

    private void BuyMeter(double time)
    {
        _meterError = _draws.At(_scenario.Radiometer.Meter, StreamKey.WholeCell, ++_purchases);
        if (_purchases == 0)
        {
            _firstMeterError = _meterError;
        }
        else
        {
            Say(time, HistoryKind.NewMeter, value: _purchases);
        }

        Calibrate(time, newMeter: true);
    }

    // s_c = ρ·s_{c−1} + √(1−ρ²)·z_c; a new radiometer starts again with z_c.
    private void Calibrate(double time, bool newMeter)
    {
        var radiometer = _scenario.Radiometer;
        int index = ++_calibrations;
        double rho = radiometer.Persistence;
        double z = _draws.Score(DrawDomain.Cell, radiometer.Calibration.Path, StreamKey.WholeCell, index);
        _calibrationScore = newMeter ? z : (rho * _calibrationScore) + (Math.Sqrt(1 - (rho * rho)) * z);
        _calibrationError = radiometer.Calibration.Varies.QuantileOfScore(_calibrationScore) * _draws.Unknown(radiometer.Calibration);
        _meterDrift = _draws.At(radiometer.Drift, StreamKey.WholeCell, index);
        _calibratedAt = time;
        if (!newMeter)
        {
            Say(time, HistoryKind.Calibration, value: index);
        }
    }
}
