using System.Runtime.Intrinsics;
using CureSim.Core.Cell;
using CureSim.Core.Numerics;
using CureSim.Core.Random;
using CureSim.Core.Summaries;

namespace CureSim.Engine.Block;

/// <content>The end of a step: calibration, planned replacement, check, requalification.</content>
public sealed partial class LifetimeBlock
{
    private bool[] touched = [];

    // Checks were the last thing done in every lane, and the states that they left have been judged.
    private bool judgedAsLeft;

    // A planned life that is a whole number of steps is reached in the step that completes it, and a drive of 1 on a grid is full, whatever the rounding.
    private const double Reached = 1.0 - 1e-12;

    private void EndOfStep()
    {
        double time = (step + 1) * stepSeconds;
        if (touched.Length == 0)
        {
            touched = new bool[lanes];
        }

        LookAtDrives();
        ServeRadiometer(time);
        ReplacePlannedEmitters(time);
        ReplacePlannedGuides(time);
        judgedAsLeft = false;
        MakeChecks(time);
        int again = 0;
        for (int lane = 0; lane < count; lane++)
        {
            if (!double.IsNaN(requalifyAt[lane]))
            {
                if (!scenario.Requalification.RecordOnly)
                {
                    judgedAsLeft = false;
                    Requalify(lane, time);
                }

                requalifyAt[lane] = double.NaN;
                for (int e = 0; e < emitters; e++)
                {
                    saturatedAtEvent[e][lane] = false;
                }
            }

            again += touched[lane] ? 1 : 0;
        }

        if (again > 0)
        {
            JudgeTouched(again, time);
        }
    }

    private void ServeRadiometer(double time)
    {
        var radiometer = scenario.Radiometer;
        bool buy = radiometer.NewMeterSteps > 0 && (step + 1) % radiometer.NewMeterSteps == 0;
        bool calibrate = radiometer.CalibrationSteps > 0 && (step + 1) % radiometer.CalibrationSteps == 0;
        if (!buy && !calibrate)
        {
            return;
        }

        for (int lane = 0; lane < count; lane++)
        {
            calibrationNumber[lane]++;
            if (buy)
            {
                meterNumber[lane]++;
                BuyMeter(lane, time);
            }
            else
            {
                Calibrate(lane, time);
            }
        }
    }

    /// <summary>Brings source, drive and light of a lane to the present moment (the end of the step).</summary>
    private void RefreshLane(int lane)
    {
        if (touched[lane])
        {
            return;
        }

        touched[lane] = true;
        for (int e = 0; e < emitters; e++)
        {
            RefreshEmitter(e, lane, burn[e][lane]);
            SettleDrive(e, lane);
        }
    }

    /// <summary>Judges the lanes in which something was done, as they are left.</summary>
    private void JudgeTouched(int number, double time)
    {
        if (number == count && !judgedAsLeft)
        {
            SettleDrives();
            RefreshLights();
        }

        batch.Count = 0;
        for (int lane = 0; lane < count && !judgedAsLeft; lane++)
        {
            if (!touched[lane])
            {
                continue;
            }

            if (number < count)
            {
                for (int e = 0; e < emitters; e++)
                {
                    SettleDrive(e, lane);
                }

                RefreshSites(lane);
            }

            if (HasMoved(lane))
            {
                Enter(lane);
            }
        }

        JudgeEntered();
        for (int lane = 0; lane < count; lane++)
        {
            if (touched[lane])
            {
                touched[lane] = false;
                SetInside(lane, verdictInside[lane], time);
                SetQualified(lane, verdictQualified[lane], time);
            }
        }
    }

    private void ReplacePlannedEmitters(double time)
    {
        if (scenario.Source.ReplaceAtBurnSeconds is not { } planned)
        {
            return;
        }

        planned *= Reached;
        var limit = Vector512.Create(planned);
        for (int e = 0; e < emitters; e++)
        {
            for (int v = 0; v < lanes; v += Lanes.Width)
            {
                if (!Vector512.GreaterThanOrEqualAny(Lanes.Load(burn[e], v), limit))
                {
                    continue;
                }

                for (int lane = v; lane < v + Lanes.Width && lane < count; lane++)
                {
                    if (burn[e][lane] >= planned)
                    {
                        RefreshLane(lane);
                        Record(lane).EmittersPlanned++;
                        Count(lane, CountedEvent.EmitterPlanned);
                        ReplaceEmitter(e, lane, time, "planned");
                        DoHarm(lane, time);
                    }
                }
            }
        }
    }

    private void ReplacePlannedGuides(double time)
    {
        if (guides == 0 || scenario.Guide!.ReplaceAtLitSeconds is not { } planned)
        {
            return;
        }

        for (int g = 0; g < guides; g++)
        {
            for (int lane = 0; lane < count; lane++)
            {
                if (guideLit[g][lane] >= planned * Reached)
                {
                    RefreshLane(lane);
                    Record(lane).GuidesPlanned++;
                    ReplaceGuide(g, lane, time, "planned");
                    DoHarm(lane, time);
                }
            }
        }
    }

    private void ReplaceEmitter(int e, int lane, double time, string reason)
    {
        Detect(lane, time);
        InstallAnother(e, lane, time, reason);
        SetUpSites(e, lane);
        SetEmitter(e, lane, time, afterInstallation: true);
    }

    /// <summary>A new emitter at place e: draws, output as new, downtime, harm, event; set-up and setting are the caller's.</summary>
    private void InstallAnother(int e, int lane, double time, string reason)
    {
        if (Traced(lane))
        {
            trace!.Add(time, "emitter replaced", reason, shared ? null : e, burn[e][lane]);
        }

        emitterNumber[e][lane]++;
        InstallEmitter(e, lane);
        RefreshEmitter(e, lane, 0.0);
        saturatedAtEvent[e][lane] = false;
        alarmed[e][lane] = false;
        DecideHarmByReplacement(e, lane);
        AddDowntime(lane, scenario.Downtimes.EmitterReplacementSeconds);
        RaiseRequalify(lane, RequalifyEvent.EmitterReplaced, time);
    }

    private void ReplaceGuide(int g, int lane, double time, string reason)
    {
        if (Traced(lane))
        {
            trace!.Add(time, "guide replaced", reason, shared ? null : g, guideLit[g][lane]);
        }

        Detect(lane, time);
        guideNumber[g][lane]++;
        InstallGuide(g, lane);
        Count(lane, CountedEvent.GuideChanged);
        var (from, to) = SitesOf(g);
        ClearAt(from, to, lane, time, (d, _) => d.ClearedBy == ClearedBy.GuideReplacement);
        for (int i = from; i < to; i++)
        {
            Clean(i, lane, newTip: true);
            toSetUp[i] = true;
        }

        SetUpMarked(lane);
        SetEmitter(g, lane, time, afterInstallation: true);
        DecideHarmByReplacement(g, lane);
        AddDowntime(lane, scenario.Downtimes.GuideReplacementSeconds);
        RaiseRequalify(lane, RequalifyEvent.GuideReplaced, time);
    }

    private void AddDowntime(int lane, double seconds)
    {
        pendingDown[lane] += seconds;
        Record(lane).DowntimeSeconds += seconds;
    }

    /// <summary>Short: at full drive and still below target by more than the action limit. Replaces what is named, once; then it is flagged.</summary>
    private void ReplaceIfShort(int e, int lane, double time, WhenShort replace)
    {
        if (!IsShort(e, lane))
        {
            return;
        }

        if (replace == WhenShort.LargerLoss)
        {
            replace = guides > 0 && -BlockMath.Log(relative[e][lane]) < guideLoss[e][lane] * guideLit[e][lane] ? WhenShort.Guide : WhenShort.Emitter;
        }

        ref var record = ref Record(lane);
        if (replace == WhenShort.Guide && guides > 0)
        {
            record.GuidesShort++;
            ReplaceGuide(e, lane, time, "short");
        }
        else if (replace == WhenShort.Emitter)
        {
            record.EmittersShort++;
            Count(lane, CountedEvent.EmitterShort);
            ReplaceEmitter(e, lane, time, "short");
        }

        if (IsShort(e, lane))
        {
            record.LeftShort++;
            if (Traced(lane))
            {
                trace!.Add(time, "still short", null, shared ? null : e, drive[e][lane]);
            }
        }
    }

    private bool IsShort(int e, int lane)
    {
        if (scenario.Checks is not { } checks || drive[e][lane] < Reached)
        {
            return false;
        }

        var (from, to) = SitesOf(e);
        double sum = 0.0, least = double.PositiveInfinity;
        for (int i = from; i < to; i++)
        {
            sum += asLeft[i][lane];
            least = Math.Min(least, asLeft[i][lane]);
        }

        double left = checks.SetBy == LegIndication.Weakest ? least : sum / (to - from);
        return left < checks.TargetWattsPerSquareMetre * (1.0 - checks.ActionLimit);
    }

    /// <summary>Recommissions the cell: new emitters for a loop that was saturated, set-up, cleaning, setting, and whatever is short.</summary>
    private void Requalify(int lane, double time)
    {
        RefreshLane(lane);
        Detect(lane, time);
        requalifying = true;
        ref var record = ref Record(lane);
        record.Requalifications++;
        AddDowntime(lane, scenario.Downtimes.RequalificationSeconds);
        if (Traced(lane))
        {
            trace!.Add(time, "requalification", Words(requalifyCause[lane]), null, null);
        }

        Span<bool> renewed = stackalloc bool[emitters];
        for (int e = 0; e < emitters; e++)
        {
            renewed[e] = requalifyCause[lane] == RequalifyEvent.LoopSaturated && saturatedAtEvent[e][lane];
            if (renewed[e])
            {
                record.EmittersShort++;
                Count(lane, CountedEvent.EmitterShort);
                InstallAnother(e, lane, time, "loop saturated");
            }
        }

        toSetUp.AsSpan().Fill(true);
        ClearAt(0, sites, lane, time, (d, _) => d.ClearedBy is ClearedBy.FixtureCheck or ClearedBy.BadIndication);
        SetUpMarked(lane);
        CleanAll(lane);
        for (int e = 0; e < emitters; e++)
        {
            SetEmitter(e, lane, time, renewed[e]);
        }

        var replace = scenario.Checks?.WhenShort ?? WhenShort.Nothing;
        for (int e = 0; e < emitters; e++)
        {
            // A requalification cannot leave a cell short: nothing named means the emitter.
            ReplaceIfShort(e, lane, time, replace == WhenShort.Nothing ? WhenShort.Emitter : replace);
        }

        DoHarm(lane, time);
        requalifying = false;
    }
}
