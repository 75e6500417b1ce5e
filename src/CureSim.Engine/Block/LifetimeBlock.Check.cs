using CureSim.Core.Cell;
using CureSim.Core.Numerics;
using CureSim.Core.Random;
using CureSim.Core.Summaries;

namespace CureSim.Engine.Block;

/// <content>The check of the output: calendar, as found, verdicts, routine, harm.</content>
public sealed partial class LifetimeBlock
{
    private readonly Verdict[] verdicts = new Verdict[1024];
    private int[] dueLanes = [];

    // Checks beside the calendar: end of the step in which an emitter was installed (−1: it was there before), drive above its limit in the last step, a check asked for.
    private int[][] installedEnd = [];
    private bool[,] driveWasAbove = new bool[0, 0];
    private bool[] checkAsked = [];
    private bool[] alarmAnswered = [];

    // A drive on a grid is a product of two rounded numbers; 1e-12 keeps it from being above a limit that it equals.
    private const double DriveRounding = 1e-12;

    private enum Verdict
    {
        Leave,
        Adjust,
        AdjustAndRecord,
        OutOfTolerance,
    }

    /// <summary>Next check of a lane: the scheduled calendar does not move when one is missed or late.</summary>
    private void ScheduleCheck(int lane, Checks checks)
    {
        lateCheck[lane] = 0;
        dueCheck[lane] = checks.IntervalSteps;
        checkAsked[lane] = false;
        for (int e = 0; e < emitters; e++)
        {
            installedEnd[e][lane] = At(scenario.Now?.EmitterBurnSeconds, e) > 0.0 ? -1 : 0;
            driveWasAbove[e, lane] = drive[e][lane] > checks.WhenDriveAbove + DriveRounding;
        }
    }

    /// <summary>The alarm asks for a check, once: a setting silences it and a loop that stays at full drive would ask anew in every step.</summary>
    private void AskForCheck(int lane)
    {
        if (scenario.Checks is { WhenAlarm: true } && !alarmAnswered[lane])
        {
            checkAsked[lane] = alarmAnswered[lane] = true;
        }
    }

    /// <summary>The drive as the loop held it in this step, before anything is done at its end: passing the limit asks for a check.</summary>
    private void LookAtDrives()
    {
        if (scenario.Checks?.WhenDriveAbove is not { } limit)
        {
            return;
        }

        for (int e = 0; e < emitters; e++)
        {
            for (int lane = 0; lane < count; lane++)
            {
                bool above = drive[e][lane] > limit + DriveRounding;
                checkAsked[lane] |= above && !driveWasAbove[e, lane];
                driveWasAbove[e, lane] = above;
            }
        }
    }

    /// <summary>Whether a check beside the calendar is made now; a question by drive or alarm is answered once.</summary>
    private bool IsExtra(int lane, Checks checks)
    {
        bool extra = checkAsked[lane];
        if (checks.AfterReplacement is { } after)
        {
            for (int e = 0; e < emitters; e++)
            {
                int since = step + 1 - installedEnd[e][lane];
                extra |= installedEnd[e][lane] >= 0 && since > 0 && since <= after.ForSteps && since % after.IntervalSteps == 0;
            }
        }

        return extra;
    }

    private void MakeChecks(double time)
    {
        if (scenario.Checks is not { } checks)
        {
            return;
        }

        for (int lane = 0; lane < count; lane++)
        {
            if (lateCheck[lane] == step + 1)
            {
                lateCheck[lane] = 0;
                checkAsked[lane] = false;
                BeginCheck(lane, time, checks);
                RefreshSites(lane);
                judgesNow = judgesBetweenChecks || ActsOn(RequalifyEvent.StateLost);
                Evaluate(lane);
                judgesNow = judgesBetweenChecks;
                FinishCheck(lane, time);
            }
        }

        int due = 0;
        for (int lane = 0; lane < count; lane++)
        {
            bool made = dueCheck[lane] == step + 1 && IsMade(lane, checks, time);
            if (!made && checks.AreUneven && records[lane].LastCheckSeconds < time && IsExtra(lane, checks))
            {
                made = true;
                records[lane].ChecksExtra++;
            }

            if (made)
            {
                checkAsked[lane] = false;
                dueLanes[due++] = lane;
            }
        }

        if (due > 0)
        {
            MakeChecks(dueLanes.AsSpan(0, due), time, checks);
        }
    }

    /// <summary>Whether the check that is due is made now, neither missed nor late; the calendar moves on.</summary>
    private bool IsMade(int lane, Checks checks, double time)
    {
        int number = dueCheck[lane] / checks.IntervalSteps;
        dueCheck[lane] += checks.IntervalSteps;
        uint lifetime = Lifetime(lane);
        if (checks.MissedProbability > 0.0 && Draw.Uniform(plan.SeedOf(model.Missed), model.Values.World, lifetime, model.Missed, number) < checks.MissedProbability)
        {
            Record(lane).ChecksMissed++;
            if (Traced(lane))
            {
                trace!.Add(time, "check missed", null, null, null);
            }

            return false;
        }

        if (checks.LateProbability > 0.0 && Draw.Uniform(plan.SeedOf(model.Late), model.Values.World, lifetime, model.Late, number) < checks.LateProbability)
        {
            lateCheck[lane] = step + 1 + checks.LateSteps;
            return false;
        }

        return true;
    }

    /// <summary>Checks of many lanes: what all of them need is made eight lanes at a time, and the states they leave are judged together.</summary>
    private void MakeChecks(ReadOnlySpan<int> due, double time, Checks checks)
    {
        drawAhead = 4 * due.Length >= lanes;
        if (drawAhead && checks.Clean)
        {
            DrawFoulingAhead();
        }

        if (due.Length == count)
        {
            RefreshEmitters();
            SettleDrives();
            touched.AsSpan(0, count).Fill(true);
            for (int i = 0; i < sites; i++)
            {
                FindPath(i);
            }
        }

        foreach (int lane in due)
        {
            BeginCheck(lane, time, checks);
        }

        drawAhead = false;
        if (due.Length == count)
        {
            RefreshLights();
        }

        batch.Count = 0;
        judgesNow = judgesBetweenChecks || ActsOn(RequalifyEvent.StateLost);
        foreach (int lane in due)
        {
            if (due.Length < count)
            {
                RefreshSites(lane);
            }

            if (HasMoved(lane))
            {
                Enter(lane);
            }
        }

        JudgeEntered();
        judgesNow = judgesBetweenChecks;
        judgedAsLeft = due.Length == count;
        foreach (int lane in due)
        {
            FinishCheck(lane, time);
        }
    }

    /// <summary>The check routine up to the verdict on the state that it leaves: as found, verdicts, cleaning and fixture, setting, being short.</summary>
    private void BeginCheck(int lane, double time, Checks checks)
    {
        RefreshLane(lane);
        ref var record = ref Record(lane);
        record.Checks++;
        record.LastCheckSeconds = time;
        AddDowntime(lane, scenario.Downtimes.CheckSeconds);
        bool saturatedAsFound = AnySaturated(lane);
        var worst = AsFound(lane, time, checks);
        switch (worst)
        {
            case Verdict.Leave: record.FoundLeave++; break;
            case Verdict.Adjust: record.FoundAdjust++; break;
            case Verdict.AdjustAndRecord: record.FoundRecord++; break;
            default: record.FoundOutOfTolerance++; break;
        }

        bool bad = worst > Verdict.Adjust;
        Release(lane, RequalifyEvent.OutOfToleranceFound, worst != Verdict.OutOfTolerance);
        Release(lane, RequalifyEvent.LoopSaturated, !saturatedAsFound);
        alarmAnswered[lane] &= saturatedAsFound;
        if (worst == Verdict.OutOfTolerance)
        {
            RaiseRequalify(lane, RequalifyEvent.OutOfToleranceFound, time);
        }

        if (saturatedAsFound && !scenario.Loop.Alarm)
        {
            RaiseRequalify(lane, RequalifyEvent.LoopSaturated, time);
        }

        if (worst != Verdict.Leave)
        {
            Detect(lane, time);
        }

        Suspect(lane, time);
        if (checks.Clean)
        {
            CleanAll(lane);
        }

        if (model.Disturbances.Length > 0)
        {
            ClearAt(0, sites, lane, time, (d, i) =>
                (d.ClearedBy == ClearedBy.FixtureCheck && checks.FixtureCheck)
                || (d.ClearedBy == ClearedBy.BadIndication && (i < 0 ? bad : verdicts[i] > Verdict.Adjust)));
            SetUpMarked(lane);
        }

        for (int e = 0; e < emitters; e++)
        {
            if (VerdictOf(e) != Verdict.Leave)
            {
                SetEmitter(e, lane, time, afterInstallation: false);
            }
        }

        for (int e = 0; e < emitters; e++)
        {
            if (VerdictOf(e) != Verdict.Leave)
            {
                ReplaceIfShort(e, lane, time, checks.WhenShort);
            }
        }
    }

    /// <summary>The routine is done: is the cell back in its qualified state? Then the harm that the check has done.</summary>
    private void FinishCheck(int lane, double time)
    {
        bool held = verdictQualified[lane];
        Release(lane, RequalifyEvent.StateLost, held);
        Release(lane, RequalifyEvent.StateLeft, held);
        if (!held)
        {
            RaiseRequalify(lane, RequalifyEvent.StateLost, time);
        }

        DecideHarm(lane, checkNumber[lane]++, d => d.ByCheck, d => d.ByCheck);
        DoHarm(lane, time);
    }

    private void CleanAll(int lane)
    {
        for (int i = 0; i < sites; i++)
        {
            Clean(i, lane, newTip: false);
        }

        DecideHarm(lane, cleaningTotal[lane]++, d => d.ByCleaning, d => d.ByCleaning);
    }

    private Verdict AsFound(int lane, double time, Checks checks)
    {
        var worst = Verdict.Leave;
        for (int i = 0; i < sites; i++)
        {
            double found = Read(i, lane, time), deviation = Math.Abs((found / reference[i][lane]) - 1.0);
            var verdict = !(deviation > checks.AdjustLimit) ? Verdict.Leave
                : !(deviation > checks.ActionLimit) ? Verdict.Adjust
                : !(deviation > model.ToleranceLimit) ? Verdict.AdjustAndRecord
                : Verdict.OutOfTolerance;
            verdicts[i] = verdict;
            worst = verdict > worst ? verdict : worst;
            if (Traced(lane))
            {
                trace!.Add(time, "as found", Words(verdict), i, found);
                NoteReading(i, lane, time, found, asFound: true);
            }
        }

        return worst;
    }

    /// <summary>Takes an indication apart for whoever asks what it came from.</summary>
    private void NoteReading(int i, int lane, double time, double indication, bool asFound)
    {
        int e = EmitterOf(i);
        double source = BlockMath.Log(emittedFull[e][lane] * drive[e][lane]);
        double fouling = hasFouling ? -(foulRate[i][lane] * exposures[i][lane]) : 0.0;
        double disturbance = factorLog[i][lane];
        double guide = PathNow(i, lane) - fouling - disturbance;
        double fixture = scenario.Checks!.MeasuredAt == MeasuredAt.BondFixture ? BlockMath.Log(readingGeometry[i][lane]) : 0.0;
        trace!.Readings.Add(new(
            time, i, asFound, indication, source, guide, fouling, disturbance, fixture, BlockMath.Log(indication) - source - guide - fouling - disturbance - fixture)
        {
            Drive = drive[e][lane], BurnSeconds = burn[e][lane], Repeatability = RepeatabilityError(i, lane, commissioning ? -1 : step, readingNumber[i][lane] - 1),
        });
    }

    private static string Words(Verdict verdict) => verdict switch
    {
        Verdict.Leave => "leave",
        Verdict.Adjust => "adjust",
        Verdict.AdjustAndRecord => "adjust and record",
        _ => "out of tolerance",
    };

    private Verdict VerdictOf(int e)
    {
        var (from, to) = SitesOf(e);
        var worst = Verdict.Leave;
        for (int i = from; i < to; i++)
        {
            worst = verdicts[i] > worst ? verdicts[i] : worst;
        }

        return worst;
    }

    /// <summary>Product since the earliest good moment among the sites out of tolerance is suspect; good sites start anew.</summary>
    private void Suspect(int lane, double time)
    {
        double now = PartsAt(lane, time), since = double.PositiveInfinity;
        for (int i = 0; i < sites; i++)
        {
            if (verdicts[i] == Verdict.OutOfTolerance)
            {
                since = Math.Min(since, bracketParts[i][lane]);
            }
            else
            {
                bracketParts[i][lane] = now;
            }
        }

        if (!double.IsPositiveInfinity(since))
        {
            Record(lane).SuspectParts += now - since;
        }
    }

    private bool AnySaturated(int lane)
    {
        for (int e = 0; e < emitters; e++)
        {
            if (saturated[e][lane] > 0.0)
            {
                return true;
            }
        }

        return false;
    }

    /// <summary>A latch is released by a check that finds its condition absent.</summary>
    private void Release(int lane, RequalifyEvent what, bool absent)
    {
        if (absent)
        {
            latched[lane][(int)what] = false;
        }
    }
}
