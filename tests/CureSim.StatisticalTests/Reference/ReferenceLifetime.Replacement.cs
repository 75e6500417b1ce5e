using CureSim.Core.Cell;
using CureSim.Core.Numerics;

namespace CureSim.StatisticalTests.Reference;

/// <content>Replacement of emitters and guides: docs/model.md section 3.</content>
internal sealed partial class ReferenceLifetime
{
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
                || -BlockMath.Log(emitter.Ageing(emitter.BurnSeconds)) >= guide.LossRate * guide.LitSeconds;
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
