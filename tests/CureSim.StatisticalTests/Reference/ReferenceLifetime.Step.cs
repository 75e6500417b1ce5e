using CureSim.Core.Cell;
using CureSim.Core.Numerics;
using CureSim.Core.Random;

namespace CureSim.StatisticalTests.Reference;

/// <content>One step: docs/model.md section 3, "Step k".</content>
internal sealed partial class ReferenceLifetime
{
    private sealed record Failure(double TimeSeconds, EmitterPlace Emitter, double BurnSeconds, double JudgedBurn, double BurnAtEndOfStep);

    /// <summary>Intervals of this step in which nothing is exposed.</summary>
    private readonly List<(double From, double To)> _down = [];

    // Exposure seconds per second of up-time of one group, at mean exposure time.
    private double ExposureDuty => _scenario.Production.PartsPerSecond
        * (_scenario.Exposure.SettingSeconds + _draws.MeanOf(_scenario.Exposure.Offset) + _draws.MeanOf(_scenario.Exposure.Error))
        / _scenario.Production.PartsAtOnce;

    // Burn seconds per second of an emitter that is lit the whole shift.
    private double WholeShiftBurn =>
        1.0 + (_scenario.Source.IgnitionsPerShift * _scenario.Source.IgnitionSeconds / _scenario.Production.ShiftSeconds);

    private void Step(int k)
    {
        _step = k;
        double start = k * Delta;
        double end = (k + 1) * Delta;
        foreach (var site in _sites)
        {
            site.ReadingsInStep = 0;
        }

        // 1
        StartLots(k);

        // 2
        double taken = Math.Min(_pendingDowntime, Delta);
        _pendingDowntime -= taken;
        _down.Clear();
        _down.Add((start, start + taken));
        double up0 = 1 - (taken / Delta);
        var failures = FindFailures(start, end, up0);
        _upFraction = Math.Max(0, up0 - (_down.Skip(1).Sum(d => d.To - d.From) / Delta));

        // 3
        AdvanceHalf(2L * k);
        foreach (var emitter in _emitters)
        {
            Settle(emitter);
        }

        // 4 and 5, in order of time
        double middle = start + (0.5 * Delta);
        var parts = new List<PartRecord>();
        StepRecord? record = null;
        List<(double TimeSeconds, Action Do)> happenings = [.. ArrivalsUntil(end), (middle, () => record = Middle(middle)), .. PartsOf(k, parts)];
        happenings.AddRange(failures.Select(f => (f.TimeSeconds, (Action)(() => Fail(f)))));
        foreach (var (_, happen) in happenings.OrderBy(h => h.TimeSeconds))
        {
            happen();
        }

        _history.Steps.Add(record! with { Parts = parts });
        PassTo(end);

        // 6
        AdvanceHalf((2L * k) + 1);

        // 7
        EndOfStep(k, end);
    }

    // Half a step of everything that moves slowly; the wander by its exact half step.
    private void AdvanceHalf(long wanderIndex)
    {
        double half = 0.5 * Delta;
        bool exposuresOnly = _scenario.Source.Lit == LitDuring.Exposures;
        double duringExposures = half * ExposureDuty * _upFraction;
        double asEmitter = exposuresOnly ? duringExposures : half * WholeShiftBurn;
        foreach (var emitter in _emitters)
        {
            emitter.BurnSeconds = emitter.BurnAtEndOfStep ?? emitter.BurnSeconds + asEmitter;
            emitter.BurnAtEndOfStep = null;
            emitter.SensorAge += half;
            if (_scenario.Source.Wander is not null)
            {
                double keep = BlockMath.Exp(-half / emitter.WanderTime);
                double z = _draws.Score(DrawDomain.Cell, "source.wander.half", emitter.Place, wanderIndex);
                emitter.WanderScore = (emitter.WanderScore * keep) + (emitter.WanderSpread * Math.Sqrt(1 - (keep * keep)) * z);
            }
        }

        foreach (var guide in _guides)
        {
            guide.LitSeconds += _scenario.Guide!.Lit == LitDuring.Exposures ? duringExposures : asEmitter;
        }

        double exposures = 0.5 * (_scenario.Production.PartsPerSecond * Delta * _upFraction / _scenario.Production.PartsAtOnce);
        foreach (var site in _sites)
        {
            site.Exposures += exposures;
        }
    }

    // Failures of the step with their downtime, emitter by emitter; a successor can fail too.
    private List<Failure> FindFailures(double start, double end, double up0)
    {
        var found = new List<Failure>();
        bool exposuresOnly = _scenario.Source.Lit == LitDuring.Exposures;
        double rate = exposuresOnly ? ExposureDuty * up0 : WholeShiftBurn;
        double lasts = _scenario.Downtimes.FailureSeconds;
        foreach (var emitter in _emitters)
        {
            double from = start;
            double burn = emitter.BurnSeconds;
            double failsAt = emitter.FailureBurn;
            int installation = emitter.Installation;
            while (rate > 0 && from + ((failsAt - burn) / rate) is var time && time <= end)
            {
                double inStep = Math.Min(lasts, end - time);
                _down.Add((time, time + inStep));
                _pendingDowntime += lasts - inStep;
                from = exposuresOnly ? Math.Min(time + lasts, end) : time;
                double left = rate * (end - from);
                found.Add(new Failure(time, emitter, failsAt, 0.5 * left, left));
                burn = 0;
                failsAt = FailureBurnOf(emitter, ++installation, 0);
            }
        }

        return found;
    }

    // Set with the new emitter as installed (h = 0); judged at half the burn time that it has left in the step.
    private void Fail(Failure failure)
    {
        PassTo(failure.TimeSeconds);
        var emitter = failure.Emitter;
        Say(failure.TimeSeconds, HistoryKind.Failure, emitter.Number, failure.BurnSeconds);
        emitter.BurnSeconds = failure.BurnSeconds;
        ReplaceEmitter(emitter, failure.TimeSeconds, ReplacementReason.Failure);
        emitter.BurnSeconds = failure.JudgedBurn;
        emitter.BurnAtEndOfStep = failure.BurnAtEndOfStep;
        DoHarm(failure.TimeSeconds);
        Judge(failure.TimeSeconds);
    }

    private StepRecord Middle(double time)
    {
        PassTo(time);
        var verdict = Judge(time);
        foreach (var emitter in _emitters)
        {
            bool becomes = IsSaturated(emitter) && !emitter.KnownSaturated;
            emitter.KnownSaturated = IsSaturated(emitter);
            if (becomes && _scenario.Loop.Alarm)
            {
                Say(time, HistoryKind.Alarm, emitter.Number, emitter.WantedDrive);
                Detect(time);
                Count(RequalifyEvent.LoopSaturated, time);
                _checkAsked |= _scenario.Checks is { WhenAlarm: true } && !_alarmAnswered;
                _alarmAnswered = true;
            }
        }

        var state = State();
        var sites = _sites.Select(s => new SiteRecord(
            s.Emitter.BurnSeconds, s.Guide?.LitSeconds ?? 0, s.Exposures, s.Emitter.Drive, state.NominalIrradiance(s.Number),
            SensedOutput(s.Emitter))).ToArray();
        return new StepRecord(_step, time, _upFraction, sites, verdict, [], _keepLevels ? LevelsInForce() : []);
    }
}
