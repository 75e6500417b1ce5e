using CureSim.Core.Cell;

namespace CureSim.StatisticalTests.Reference;

/// <content>The check routine: docs/model.md section 3, "Check c", (a) to (e).</content>
internal sealed partial class ReferenceLifetime
{
    private void Check(int number, double time)
    {
        var checks = _scenario.Checks!;
        Say(time, HistoryKind.Check, value: number);
        _pendingDowntime += _scenario.Downtimes.CheckSeconds;

        // (a) and (b)
        foreach (var emitter in _emitters)
        {
            Settle(emitter);
        }

        bool saturated = _emitters.Any(IsSaturated);
        _alarmAnswered &= saturated;
        var verdicts = _sites.Select(s => AsFound(s, time)).ToArray();
        if (verdicts.Any(v => v != CheckVerdict.Leave))
        {
            Detect(time);
        }

        CountSuspectParts(verdicts, time);
        Meet(RequalifyEvent.OutOfToleranceFound, verdicts.Contains(CheckVerdict.OutOfTolerance), time);
        if (!_scenario.Loop.Alarm || !saturated)
        {
            Meet(RequalifyEvent.LoopSaturated, saturated, time); // with an alarm only the alarm counts; the check can release
        }

        // (c)
        if (checks.Clean)
        {
            foreach (var site in _sites)
            {
                Clean(site, time);
            }

            CleaningDoesHarm();
        }

        var toSetUp = new SortedSet<int>();
        Clear(
            d => (d.Kind.ClearedBy == ClearedBy.FixtureCheck && checks.FixtureCheck)
                || (d.Kind.ClearedBy == ClearedBy.BadIndication && d.Sites.Any(s => verdicts[s] > CheckVerdict.Adjust)),
            time,
            toSetUp);
        foreach (int s in toSetUp)
        {
            SetUp(_sites[s], time);
        }

        // (d) and (e)
        var toSet = _emitters.Where(e => e.Sites.Any(s => verdicts[s] != CheckVerdict.Leave)).ToArray();
        foreach (var emitter in toSet)
        {
            Set(emitter, time, installed: false);
        }

        ReplaceShortOnes(toSet, ReplacementReason.Short, time);

        // The routine is done: is the cell back in its qualified state?
        bool lost = !Verdict().Qualified;
        Meet(RequalifyEvent.StateLost, lost, time);
        if (!lost)
        {
            _latched.Remove(RequalifyEvent.StateLeft);
        }

        CheckDoesHarm();
        DoHarm(time);
    }

    private CheckVerdict AsFound(SitePlace site, double time)
    {
        var checks = _scenario.Checks!;
        double indication = Read(site, time);
        double deviation = Math.Abs((indication / site.Reference) - 1);
        var verdict = deviation <= checks.AdjustLimit ? CheckVerdict.Leave
            : deviation <= checks.ActionLimit ? CheckVerdict.Adjust
            : deviation <= _toleranceLimit ? CheckVerdict.AdjustAndRecord
            : CheckVerdict.OutOfTolerance;
        Say(time, HistoryKind.AsFound, site.Number, indication, deviation);
        Say(time, HistoryKind.Verdict, site.Number, (double)verdict);
        _history.Verdicts[verdict]++;
        return verdict;
    }

    // Out of tolerance: what was made since the earliest bracket of the sites that are. In tolerance: a new bracket.
    private void CountSuspectParts(CheckVerdict[] verdicts, double time)
    {
        var bad = _sites.Where(s => verdicts[s.Number] == CheckVerdict.OutOfTolerance).ToArray();
        if (bad.Length > 0)
        {
            double suspect = _history.PartsMade - bad.Min(s => s.BracketParts);
            _history.SuspectParts += suspect;
            Say(time, HistoryKind.Suspect, value: suspect);
        }

        foreach (var site in _sites.Except(bad))
        {
            site.BracketParts = _history.PartsMade;
        }
    }
}
