using CureSim.Core.Cell;
using CureSim.Core.Random;

namespace CureSim.StatisticalTests.Reference;

/// <content>Radiometer, planned replacements, checks and requalification: docs/model.md section 3, step 7.</content>
internal sealed partial class ReferenceLifetime
{
    // A planned life that is a whole number of steps is reached in the step that completes it, whatever the rounding of the sum.
    private const double Reached = 1.0 - 1e-12;

    private int _lateCheckStep = -1;
    private int _lateCheckNumber;

    private void EndOfStep(int k, double time)
    {
        bool touched = false;
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

        if (CheckIsMade(k, time) is int number)
        {
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

    private void ReplaceEmitter(EmitterPlace emitter, double time, ReplacementReason reason)
    {
        Detect(time);
        double burn = emitter.BurnSeconds;
        InstallEmitter(emitter);
        foreach (int s in emitter.Sites)
        {
            SetUp(_sites[s], time);
        }

        Say(time, HistoryKind.EmitterReplaced, emitter.Number, burn, name: reason.ToString());
        Set(emitter, time, installed: true);
        EmitterWasReplaced(emitter, time, reason);
    }

    private void EmitterWasReplaced(EmitterPlace emitter, double time, ReplacementReason reason)
    {
        _history.EmittersReplaced[reason]++;
        _saturatedAtEvent.Remove(emitter);
        ReplacementDoesHarm(emitter.Place, emitter.Sites);
        if (reason != ReplacementReason.Failure)
        {
            _pendingDowntime += _scenario.Downtimes.EmitterReplacementSeconds; // a failure's own downtime stands for it
        }

        Count(RequalifyEvent.EmitterReplaced, time);
    }

    private void ReplaceGuide(GuidePlace guide, double time, ReplacementReason reason)
    {
        Detect(time);
        double lit = guide.LitSeconds;
        InstallGuide(guide);
        var toSetUp = new SortedSet<int>(guide.Sites);
        Clear(d => d.Kind.ClearedBy == ClearedBy.GuideReplacement && d.Sites.Intersect(guide.Sites).Any(), time, toSetUp);
        foreach (int s in guide.Sites)
        {
            NewTip(_sites[s]);
            Say(time, HistoryKind.Cleaned, s, 0, _sites[s].CleaningNumber);
        }

        foreach (int s in toSetUp)
        {
            SetUp(_sites[s], time);
        }

        Say(time, HistoryKind.GuideReplaced, guide.Number, lit, name: reason.ToString());
        foreach (var emitter in guide.Sites.Select(s => _sites[s].Emitter).Distinct())
        {
            Set(emitter, time, installed: true);
        }

        _history.GuidesReplaced[reason]++;
        ReplacementDoesHarm(guide.Place, guide.Sites);
        _pendingDowntime += _scenario.Downtimes.GuideReplacementSeconds;
        Count(RequalifyEvent.GuideReplaced, time);
    }

    // What the routine names for an emitter that is short; true when something was replaced.
    private bool ReplaceWhatIsNamed(WhenShort named, EmitterPlace emitter, double time, ReplacementReason reason)
    {
        var guide = _sites[emitter.Sites[0]].Guide;
        if (named == WhenShort.LargerLoss)
        {
            bool emitterLostMore = guide is null
                || -Core.Numerics.BlockMath.Log(emitter.Ageing(emitter.BurnSeconds)) >= guide.LossRate * guide.LitSeconds;
            named = emitterLostMore ? WhenShort.Emitter : WhenShort.Guide;
        }

        if (named == WhenShort.Emitter)
        {
            ReplaceEmitter(emitter, time, reason);
            return true;
        }

        if (named == WhenShort.Guide && guide is not null)
        {
            ReplaceGuide(guide, time, reason);
            return true;
        }

        return false;
    }

    private void Requalify(RequalifyEvent cause, double time)
    {
        Detect(time);
        _requalifying = true;
        _pendingDowntime += _scenario.Downtimes.RequalificationSeconds;
        Say(time, HistoryKind.Requalified, value: (double)cause);
        var renewed = cause == RequalifyEvent.LoopSaturated ? _emitters.Where(_saturatedAtEvent.Contains).ToArray() : [];
        foreach (var emitter in renewed)
        {
            double burn = emitter.BurnSeconds;
            InstallEmitter(emitter);
            Say(time, HistoryKind.EmitterReplaced, emitter.Number, burn, name: nameof(ReplacementReason.Requalification));
            EmitterWasReplaced(emitter, time, ReplacementReason.Requalification);
        }

        foreach (var site in _sites)
        {
            SetUp(site, time);
            Clean(site, time);
        }

        CleaningDoesHarm();
        Clear(d => d.Kind.ClearedBy is ClearedBy.FixtureCheck or ClearedBy.BadIndication, time, []);
        foreach (var emitter in _emitters)
        {
            Set(emitter, time, installed: renewed.Contains(emitter));
        }

        ReplaceShortOnes(_emitters, ReplacementReason.Requalification, time);
        DoHarm(time);
        _requalifying = false;
    }

    private void ReplaceShortOnes(IEnumerable<EmitterPlace> wereSet, ReplacementReason reason, double time)
    {
        if (_scenario.Checks is not { } checks)
        {
            return;
        }

        // A requalification cannot leave a cell short: nothing named means the emitter.
        var named = reason == ReplacementReason.Requalification && checks.WhenShort == WhenShort.Nothing
            ? WhenShort.Emitter
            : checks.WhenShort;
        foreach (var emitter in wereSet.Where(IsShort))
        {
            if (!ReplaceWhatIsNamed(named, emitter, time, reason) || IsShort(emitter))
            {
                Say(time, HistoryKind.Short, emitter.Number, emitter.AsLeft);
            }
        }
    }
}
