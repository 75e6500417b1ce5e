using CureSim.Core.Cell;

namespace CureSim.StatisticalTests.Reference;

/// <content>Judgement of the state, excursions and events to requalify on: docs/model.md section 4.</content>
internal sealed partial class ReferenceLifetime
{
    private readonly OutOfBounds _state = new();
    private readonly OutOfBounds _window = new();
    private readonly HashSet<RequalifyEvent> _latched = [];

    /// <summary>Events counted and not yet answered by a requalification.</summary>
    private readonly List<FirstRequalifyEvent> _asking = [];

    /// <summary>Emitters that were saturated when a saturated loop was counted.</summary>
    private readonly HashSet<EmitterPlace> _saturatedAtEvent = [];

    private bool _requalifying;

    /// <summary>Up to when time and parts are summed.</summary>
    private double _accountedTo;

    private double _upFraction = 1.0;

    // Time passes with the state, and the up-time fraction, as they are. Sampled parts are no moments of these accounts.
    private void PassTo(double time)
    {
        double seconds = time - _accountedTo;
        _state.Pass(seconds);
        _window.Pass(seconds);
        _history.PartsMade += _scenario.Production.PartsPerSecond * _upFraction * seconds;
        _accountedTo = time;
    }

    private StateVerdict Verdict()
    {
        foreach (var emitter in _emitters)
        {
            Settle(emitter);
        }

        return _verdict.Judge(State());
    }

    private void JudgeCommissioned()
    {
        var verdict = _verdict.Judge(State());
        _history.Commissioned = verdict;
        _state.Judge(verdict.Qualified, 0, 0);
        _window.Judge(verdict.NominalInside, 0, 0);
        if (!verdict.Qualified)
        {
            Say(0, HistoryKind.NeverQualified);
        }
    }

    private StateVerdict Judge(double time)
    {
        var verdict = Verdict();
        _window.Judge(verdict.NominalInside, time, _history.PartsMade);
        bool inExcursion = _state.Out && _state.EverIn;
        double start = _state.StartSeconds;
        if (_state.Judge(verdict.Qualified, time, _history.PartsMade))
        {
            if (!verdict.Qualified)
            {
                Say(time, HistoryKind.ExcursionStart);
                _history.FirstExcursion ??= new FirstExcursion(time, null, double.NaN);
                Count(RequalifyEvent.StateLeft, time);
            }
            else if (inExcursion)
            {
                Say(time, HistoryKind.ExcursionEnd, value: start);
            }
        }

        return verdict;
    }

    // A check with a verdict other than leave, an alarm, a replacement or a requalification: somebody knows.
    private void Detect(double time)
    {
        if (_state.IsUndetectedExcursion)
        {
            double parts = _history.PartsMade - _state.PartsAtStart;
            Say(time, HistoryKind.ExcursionDetected, value: _state.StartSeconds, other: parts);
            if (_history.FirstExcursion is { DetectedSeconds: null } first && first.StartSeconds == _state.StartSeconds)
            {
                _history.FirstExcursion = first with { DetectedSeconds = time, PartsUntilDetected = parts };
            }
        }

        _state.Detect();
        _window.Detect();
    }

    // Counts an event at its onset. Replacements have no latch; those of a requalification are not events.
    private void Count(RequalifyEvent happened, double time)
    {
        if (!_scenario.Requalification.On.Contains(happened))
        {
            return;
        }

        bool hasLatch = happened is not (RequalifyEvent.EmitterReplaced or RequalifyEvent.GuideReplaced);
        if (hasLatch ? !_latched.Add(happened) : _requalifying)
        {
            return;
        }

        Say(time, HistoryKind.RequalifyEvent, value: (double)happened);
        if (happened == RequalifyEvent.LoopSaturated)
        {
            _saturatedAtEvent.UnionWith(_emitters.Where(IsSaturated));
        }

        var row = new FirstRequalifyEvent(time, happened);
        _asking.Add(row);
        if (_history.FirstRequalify is not { } first || Earlier(row, first))
        {
            _history.FirstRequalify = row;
        }
    }

    // A check met the condition (it counts unless latched) or its absence (the latch is released).
    private void Meet(RequalifyEvent condition, bool present, double time)
    {
        if (present)
        {
            Count(condition, time);
        }
        else
        {
            _latched.Remove(condition);
        }
    }

    // By time; at equal time the cause written earlier.
    private static bool Earlier(FirstRequalifyEvent a, FirstRequalifyEvent b) =>
        a.TimeSeconds < b.TimeSeconds || (a.TimeSeconds == b.TimeSeconds && a.Cause < b.Cause);

    private void CloseAccounts()
    {
        _history.OutOfStateSeconds = _state.TotalSeconds;
        _history.OutOfStateUndetectedSeconds = _state.UndetectedSeconds;
        _history.OutOfWindowSeconds = _window.TotalSeconds;
        _history.OutOfWindowUndetectedSeconds = _window.UndetectedSeconds;
    }
}
