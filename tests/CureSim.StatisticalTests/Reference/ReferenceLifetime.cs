using System.Collections.Immutable;
using CureSim.Core.Cell;
using CureSim.Core.Random;

namespace CureSim.StatisticalTests.Reference;

/// <summary>The cell of one lifetime while it is simulated. This file: who is where, commissioning and the run of steps.</summary>
internal sealed partial class ReferenceLifetime
{
    private const double SaturatedAbove = 1.0 + 1e-12; // docs/model.md section 3, loop and drive

    private readonly Scenario _scenario;
    private readonly IStateVerdict _verdict;
    private readonly ReferenceDraws _draws;
    private readonly double _toleranceLimit;
    private readonly bool _keepLevels;
    private readonly LifetimeHistory _history = new();

    private readonly EmitterPlace[] _emitters;
    private readonly GuidePlace[] _guides;
    private readonly SitePlace[] _sites;
    private readonly DisturbancePlace[] _disturbances;
    private readonly AgeingLaw _ageingLaw;
    private readonly PartQuantities _partQuantities;

    private readonly double _exposureOffset;
    private readonly double _cureExponent;
    private readonly double _inductionDose;
    private double _absorption;
    private double _cureRate;

    /// <summary>Number of the step; −1 at commissioning.</summary>
    private int _step = -1;

    /// <summary>Downtime not yet taken, s.</summary>
    private double _pendingDowntime;

    public ReferenceLifetime(Scenario scenario, IStateVerdict verdict, ReferenceDraws draws, double toleranceLimit, bool keepLevels)
    {
        (_scenario, _verdict, _draws, _toleranceLimit, _keepLevels) = (scenario, verdict, draws, toleranceLimit, keepLevels);
        int n = scenario.Production.SiteCount;
        int[] all = [.. Enumerable.Range(0, n)];
        bool shared = scenario.Source.Arrangement == EmitterArrangement.Shared;

        // A shared emitter or guide has place −1, an own one its site number.
        _emitters = shared ? [new EmitterPlace(0, StreamKey.WholeCell, all)] : [.. all.Select(s => new EmitterPlace(s, s, [s]))];
        _guides = scenario.Guide is null ? [] : shared
            ? [new GuidePlace(0, StreamKey.WholeCell, all)]
            : [.. all.Select(s => new GuidePlace(s, s, [s]))];
        _sites = [.. all.Select(s => new SitePlace(
            s, _emitters[shared ? 0 : s], _guides.Length == 0 ? null : _guides[shared ? 0 : s], s / scenario.Production.SitesPerPart))];
        _disturbances = [.. scenario.Disturbances.SelectMany(d => d.WholeCell
            ? [new DisturbancePlace(d, StreamKey.WholeCell, all)]
            : all.Select(s => new DisturbancePlace(d, s, [s])))];

        _ageingLaw = DrawAgeingLaw();
        _aimIsNormal = PartAim.IsNormalAboutZero(scenario.Fixture.AimPart.Varies);
        _exposureOffset = draws.At(scenario.Exposure.Offset, StreamKey.WholeCell, 0);
        _cureExponent = scenario.Cure is null ? 1 : draws.OfWorld(scenario.Cure.Exponent);
        _inductionDose = scenario.Cure is null ? 0 : draws.OfWorld(scenario.Cure.InductionDose);
        var fixedAtZero = Quantity.Of("none", Level.Part, 0);
        _partQuantities = new PartQuantities(
            Part(scenario.Fixture.DistancePart), Part(scenario.Fixture.AimPart), Part(scenario.Fixture.Tilt),
            Part(scenario.Substrate?.Thickness ?? fixedAtZero), Part(scenario.Cure?.RatePart ?? fixedAtZero),
            Part(scenario.Loop.Ripple), Part(scenario.Exposure.Error));
    }

    /// <summary>Shared emitter with more than one leg: legs cannot be trimmed apart, so each has a reference of its own.</summary>
    private bool HasLegs => _scenario.Source.Arrangement == EmitterArrangement.Shared && _sites.Length > 1;

    private double Delta => _scenario.Production.StepSeconds;

    public LifetimeHistory Run()
    {
        Commission();
        for (int k = 0; k < _scenario.Production.StepCount; k++)
        {
            Step(k);
        }

        CloseAccounts();
        return _history;
    }

    private PartQuantity Part(Quantity q) => new(q.Varies, _draws.Unknown(q));

    private void Say(
        double time, HistoryKind kind, int place = -1, double value = double.NaN, double other = double.NaN, string name = "") =>
        _history.Events.Add(new HistoryEvent(time, kind, place, value, other, name));

    // Among candidate laws, by cumulated weight: the first whose share of the total is above the world's uniform.
    private AgeingLaw DrawAgeingLaw()
    {
        var candidates = _scenario.Source.Ageing;
        double total = candidates.Sum(c => c.Weight);
        double aim = _draws.Uniform(DrawDomain.World, "source.ageing.form", StreamKey.WholeCell, 0) * total;
        double sum = 0;
        foreach (var candidate in candidates)
        {
            sum += candidate.Weight;
            if (aim < sum)
            {
                return candidate.Law;
            }
        }

        return candidates[^1].Law;
    }

    // t = 0: all levels drawn at index 0, set, judge.
    private void Commission()
    {
        Say(0, HistoryKind.Commissioned);
        BuyMeter(0);
        StartLots(0);
        foreach (var guide in _guides)
        {
            InstallGuide(guide);
        }

        foreach (var emitter in _emitters)
        {
            emitter.SensorDrift = _draws.At(_scenario.Loop.SensorDrift, emitter.Place, 0);
            InstallEmitter(emitter);
        }

        foreach (var site in _sites)
        {
            NewTip(site);
            SetUp(site, 0);
        }

        foreach (var disturbance in _disturbances)
        {
            disturbance.Rate = _draws.OfWorld(disturbance.Kind.Rate);
            ScheduleArrival(disturbance, 0);
        }

        StartFromPresentState();
        foreach (var emitter in _emitters)
        {
            if (_scenario.Now?.Drive is { } drives)
            {
                GoOnAtDrive(emitter, drives[emitter.Number]);
            }
            else
            {
                Set(emitter, 0, installed: true);
            }
        }

        foreach (var emitter in _emitters)
        {
            emitter.DriveWasAbove = DriveIsAbove(emitter);
        }

        _history.CommissionedDrive = [.. _emitters.Select(e => e.Drive)];
        JudgeCommissioned();
    }

    private void StartFromPresentState()
    {
        if (_scenario.Now is not { } now)
        {
            return;
        }

        foreach (var emitter in _emitters)
        {
            emitter.BurnSeconds = now.EmitterBurnSeconds?[emitter.Number] ?? 0;
            emitter.FailureBurn = FailureBurnOf(emitter, emitter.BurnSeconds);
            emitter.NewSince = emitter.BurnSeconds > 0 ? null : 0;
        }

        foreach (var guide in _guides)
        {
            guide.LitSeconds = now.GuideLitSeconds?[guide.Number] ?? 0;
        }

        foreach (var site in _sites)
        {
            site.Exposures = now.ExposuresSinceCleaning?[site.Number] ?? 0;
            if (HasLegs && site.Guide is not null && now.LegShares is { } shares)
            {
                site.LegFactor = shares[site.Number];
            }
        }
    }

    // No setting: the set-point is the sensed output at the present drive with g = 1.
    private void GoOnAtDrive(EmitterPlace emitter, double drive)
    {
        emitter.Drive = drive;
        emitter.SetPoint = SensedAtFullDrive(emitter) * drive;
        emitter.WantedDrive = drive;
        emitter.SensorAge = 0;
        foreach (int s in emitter.Sites)
        {
            double target = _scenario.Checks?.TargetWattsPerSquareMetre ?? double.NaN;
            _sites[s].Reference = HasLegs ? _scenario.Now?.LastAsLeftWattsPerSquareMetre?[s] ?? target : target;
        }
    }
}
