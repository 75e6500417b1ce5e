using CureSim.Core.Cell;
using CureSim.Core.Random;

namespace CureSim.StatisticalTests.Reference;

/// <content>What is due at the end of a step: docs/model.md section 3, step 7.</content>
internal sealed partial class ReferenceLifetime
{
    // A planned life that is a whole number of steps is reached in the step that completes it, whatever the rounding of the sum.
    private const double Reached = 1.0 - 1e-12;

    private int _lateCheckStep = -1;
    private int _lateCheckNumber;
    private bool _checkAsked;

    // An alarm has asked for a check, and neither a check that found the loop held nor a new emitter has come since.
    private bool _alarmAnswered;

    // 1e-12: a drive on a grid is a product of two rounded numbers.
    private bool DriveIsAbove(EmitterPlace emitter) => emitter.Drive > _scenario.Checks?.WhenDriveAbove + 1e-12;

    // Asked for by drive or alarm, or one of those that follow an installation; it has no number of its own.
    private int? CheckBesideTheCalendar(int k)
    {
        bool made = _checkAsked;
        if (_scenario.Checks?.AfterReplacement is { } after)
        {
            foreach (int since in _emitters.Where(e => e.NewSince is not null).Select(e => k + 1 - e.NewSince!.Value))
            {
                made |= since > 0 && since <= after.ForSteps && since % after.IntervalSteps == 0;
            }
        }

        return made ? 0 : null;
    }

    private void EndOfStep(int k, double time)
    {
        bool touched = false;
        foreach (var emitter in _emitters)
        {
            bool above = DriveIsAbove(emitter);
            _checkAsked |= above && !emitter.DriveWasAbove;
            emitter.DriveWasAbove = above;
        }

        var radiometer = _scenario.Radiometer;
        if (radiometer.NewMeterSteps > 0 && (k + 1) % radiometer.NewMeterSteps == 0)
        {
            BuyMeter(time);
        }
        else if (radiometer.CalibrationSteps > 0 && (k + 1) % radiometer.CalibrationSteps == 0)
        {
            Calibrate(time, newMeter: false);
        }

        foreach (var emitter in _emitters.Where(e => e.BurnSeconds >= _scenario.Source.ReplaceAtBurnSeconds * Reached))
        {
            ReplaceEmitter(emitter, time, ReplacementReason.Planned);
            DoHarm(time);
            touched = true;
        }

        foreach (var guide in _guides.Where(g => g.LitSeconds >= _scenario.Guide!.ReplaceAtLitSeconds * Reached))
        {
            ReplaceGuide(guide, time, ReplacementReason.Planned);
            DoHarm(time);
            touched = true;
        }

        if ((CheckIsMade(k, time) ?? CheckBesideTheCalendar(k)) is int number)
        {
            _checkAsked = false;
            Check(number, time);
            touched = true;
        }

        if (_asking.Count > 0 && !_scenario.Requalification.RecordOnly)
        {
            Requalify(_asking.Aggregate((a, b) => Earlier(b, a) ? b : a).Cause, time);
            touched = true;
        }

        _asking.Clear();
        _saturatedAtEvent.Clear();
        if (touched)
        {
            Judge(time);
        }
    }

    // Scheduled check c at c·interval; missed or late by its own draw; the calendar does not move.
    private int? CheckIsMade(int k, double time)
    {
        if (_scenario.Checks is not { } checks)
        {
            return null;
        }

        if (k == _lateCheckStep)
        {
            return _lateCheckNumber;
        }

        if ((k + 1) % checks.IntervalSteps != 0)
        {
            return null;
        }

        int number = (k + 1) / checks.IntervalSteps;
        if (_draws.Uniform(DrawDomain.Cell, "checks.missed", StreamKey.WholeCell, number) < checks.MissedProbability)
        {
            Say(time, HistoryKind.CheckMissed, value: number);
            return null;
        }

        if (_draws.Uniform(DrawDomain.Cell, "checks.late", StreamKey.WholeCell, number) < checks.LateProbability)
        {
            Say(time, HistoryKind.CheckLate, value: number);
            (_lateCheckStep, _lateCheckNumber) = (k + checks.LateSteps, number);
            return checks.LateSteps == 0 ? number : null;
        }

        return number;
    }
}
