using CureSim.Core.Cell;

namespace CureSim.StatisticalTests.Reference;

/// <content>Requalification: docs/model.md section 4.</content>
internal sealed partial class ReferenceLifetime
{
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
}
