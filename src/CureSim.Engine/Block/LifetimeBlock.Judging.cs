using System.Numerics;
using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using CureSim.Core.Cell;
using CureSim.Core.Numerics;
using CureSim.Core.Summaries;
using CureSim.Engine.State;

namespace CureSim.Engine.Block;

/// <content>Judging the state: qualified or not, nominal bonds inside or not, excursions, and events to requalify on.</content>
public sealed partial class LifetimeBlock
{
    private readonly bool[] requalifyOn = new bool[Enum.GetValues<RequalifyEvent>().Length];
    private double[] limitShift = [];
    private double[][] judgedLog = [];
    private double[] mayFall = [];
    private double[] mayRise = [];
    private double[] partProbability = [];

    // What was found of a lane's state at the middle of a step, for whoever asks in the same step: the step, p of a part and of a bond, score.
    private int[] freshStep = [];
    private (double Part, double Bond, double Score)[] fresh = [];
    private bool judgesByProbability;
    private bool[] qualified = [];
    private bool[] inside = [];
    private double[] outFrom = [];
    private double[] outFromParts = [];
    private double[] detectedAt = [];
    private bool[] inFirstExcursion = [];
    private double[] outsideFrom = [];
    private double[] outsideDetectedAt = [];
    private bool[][] latched = [];
    private double[] requalifyAt = [];
    private RequalifyEvent[] requalifyCause = [];
    private bool[][] alarmed = [];
    private bool[][] saturatedAtEvent = [];
    private bool[] verdictQualified = [];
    private bool[] verdictInside = [];
    private bool[][] rowStale = [];
    private double[][] rows = [];
    private double[][] rowSlope = [];
    private double[][] rowLowerSlope = [];
    private double[] singleRow = [];
    private double[] siteLog = [];
    private const ulong LaneBits = (1UL << Lanes.Width) - 1;
    private JudgeBatch batch = new(0, 0);

    private void AllocateJudging()
    {
        judgesByProbability = scenario.Requalification.RequiredCapability is not null;
        foreach (var on in scenario.Requalification.On)
        {
            requalifyOn[(int)on] = true;
        }

        limitShift = new double[lanes];
        judgedLog = NewArrays(sites);
        mayFall = new double[lanes];
        mayRise = new double[lanes];
        partProbability = new double[lanes];
        freshStep = new int[lanes];
        freshStep.AsSpan().Fill(-1);
        fresh = new (double, double, double)[lanes];
        qualified = new bool[lanes];
        inside = new bool[lanes];
        outFrom = new double[lanes];
        outFromParts = new double[lanes];
        detectedAt = new double[lanes];
        inFirstExcursion = new bool[lanes];
        outsideFrom = new double[lanes];
        outsideDetectedAt = new double[lanes];
        latched = new bool[lanes][];
        requalifyAt = new double[lanes];
        requalifyCause = new RequalifyEvent[lanes];
        alarmed = new bool[emitters][];
        saturatedAtEvent = new bool[emitters][];
        for (int e = 0; e < emitters; e++)
        {
            alarmed[e] = new bool[lanes];
            saturatedAtEvent[e] = new bool[lanes];
        }

        verdictQualified = new bool[lanes];
        verdictInside = new bool[lanes];
        rowStale = new bool[sites][];
        rows = new double[lanes][];
        rowSlope = NewArrays(sites);
        rowLowerSlope = NewArrays(sites);
        siteLog = new double[sites];
        singleRow = new double[OwnFactorTable.Points];
        batch = new(lanes, sites);
        for (int i = 0; i < sites; i++)
        {
            rowStale[i] = new bool[lanes];
        }

        for (int lane = 0; lane < lanes; lane++)
        {
            latched[lane] = new bool[requalifyOn.Length];
            requalifyAt[lane] = double.NaN;
        }

        if (model.Judge.Table.Spread <= 0.0)
        {
            return;
        }

        if (model.Judge.Table.IsSingleRow)
        {
            model.Judge.Table.Slice(0.0, 0.0, 0.0, singleRow);
        }
        else
        {
            for (int lane = 0; lane < lanes; lane++)
            {
                rows[lane] = new double[sites * OwnFactorTable.Points];
            }
        }
    }

    /// <summary>Something other than ln irradiance changed: the next judgement of the lane must be made anew.</summary>
    private void Invalidate(int lane)
    {
        mayFall[lane] = mayRise[lane] = -1.0;
    }

    private double[] RowsOf(int lane)
    {
        if (model.Judge.Table.Spread <= 0.0 || model.Judge.Table.IsSingleRow)
        {
            return singleRow;
        }

        double mean = model.DistancePart.Mean;
        for (int i = 0; i < sites; i++)
        {
            if (rowStale[i][lane])
            {
                rowStale[i][lane] = false;
                double rho = Math.Sqrt((aimX[i][lane] * aimX[i][lane]) + (aimY[i][lane] * aimY[i][lane]));
                var row = rows[lane].AsSpan(i * OwnFactorTable.Points, OwnFactorTable.Points);
                model.Judge.Table.Slice(distance[i][lane] + mean, rho, absorption[lane], row);
                (rowSlope[i][lane], rowLowerSlope[i][lane]) = model.Judge.Table.SlopesOf(row);
            }
        }

        return rows[lane];
    }

    /// <summary>Steepest slopes of the rows of a lane's sites, which bound how fast its score can move.</summary>
    private (double Any, double Lower) SlopesOfLane(int lane)
    {
        if (model.Judge.Table.Spread <= 0.0 || model.Judge.Table.IsSingleRow)
        {
            return (model.Judge.Table.MaximumSlope, model.Judge.Table.MaximumSlope);
        }

        _ = RowsOf(lane);
        double any = 0.0, lower = 0.0;
        for (int i = 0; i < sites; i++)
        {
            any = Math.Max(any, rowSlope[i][lane]);
            lower = Math.Max(lower, rowLowerSlope[i][lane]);
        }

        return (any, lower);
    }

    /// <summary>p(state) of a part and of a bond in one lane, as it stands.</summary>
    private (double Part, double Bond) ProbabilityNow(int lane)
    {
        for (int i = 0; i < sites; i++)
        {
            siteLog[i] = logNominal[i][lane];
        }

        return model.Judge.Probability(siteLog, RowsOf(lane), lotRateLog[lane], limitShift[lane]);
    }

    /// <summary>Judges lanes whose state has moved further than their last verdicts allow; lanes with events inside the step are judged on their walk.</summary>
    [MethodImpl(Kernel.Options)]
    private void JudgeMiddle()
    {
        RefreshLights();
        double time = (step + 0.5) * stepSeconds;
        batch.Count = 0;
        for (int v = 0; judgesNow && v < lanes / Lanes.Width; v++)
        {
            Vector512<double> fallen = default, risen = default;
            for (int i = 0; i < sites; i++)
            {
                var rise = Lanes.Load(logNominal[i], v * Lanes.Width) - Lanes.Load(judgedLog[i], v * Lanes.Width);
                risen = Vector512.Max(risen, rise);
                fallen = Vector512.Max(fallen, -rise);
            }

            // Strictly inside; a negated test sends not-a-number to the scalar judge, which reports it.
            var stays = Vector512.LessThan(fallen, Lanes.Load(mayFall, v * Lanes.Width)) & Vector512.LessThan(risen, Lanes.Load(mayRise, v * Lanes.Width));
            ulong left = ~stays.ExtractMostSignificantBits() & LaneBits;
            for (; left != 0; left &= left - 1)
            {
                int lane = (v * Lanes.Width) + BitOperations.TrailingZeroCount(left);
                if (lane < count && !walks[lane])
                {
                    Enter(lane);
                }
            }
        }

        JudgeEntered();
        for (int k = 0; k < batch.Count; k++)
        {
            int lane = batch.Lane[k];
            SetInside(lane, verdictInside[lane], time);
            SetQualified(lane, verdictQualified[lane], time);
        }

        if (judgesByProbability)
        {
            KeepFresh();
        }

        if (hasLoop)
        {
            for (int lane = 0; lane < count; lane++)
            {
                if (!walks[lane])
                {
                    SoundAlarm(lane, time);
                }
            }
        }
    }

    /// <summary>Keeps what the batch has found of the present step.</summary>
    private void KeepFresh()
    {
        for (int k = 0; k < batch.Count; k++)
        {
            int lane = batch.Lane[k];
            freshStep[lane] = step;
            fresh[lane] = (batch.Part[k], batch.Bond[k], batch.Score[k]);
        }
    }

    private bool IsFresh(int lane) => freshStep[lane] == step && !walks[lane];

    /// <summary>Alarm at the onset of an emitter's saturation.</summary>
    private void SoundAlarm(int lane, double time)
    {
        for (int e = 0; e < emitters; e++)
        {
            bool now = saturated[e][lane] > 0.0;
            if (now && !alarmed[e][lane] && scenario.Loop.Alarm)
            {
                if (Traced(lane))
                {
                    trace!.Add(time, "alarm", "loop saturated", shared ? null : e, null);
                }

                Detect(lane, time);
                RaiseRequalify(lane, RequalifyEvent.LoopSaturated, time);
                AskForCheck(lane);
            }

            alarmed[e][lane] = now;
        }
    }

    /// <summary>Judges one lane as it stands: the verdict takes effect at <paramref name="time"/>.</summary>
    private void Judge(int lane, double time)
    {
        Evaluate(lane);
        SetInside(lane, verdictInside[lane], time);
        SetQualified(lane, verdictQualified[lane], time);
    }

    /// <summary>The verdict on one lane as it stands; reuses the last one while the state has not moved out of its bounds.</summary>
    private void Evaluate(int lane)
    {
        if (HasMoved(lane))
        {
            Judge(lane);
        }
    }

    /// <summary>Whether the state has moved out of the bounds of its last verdict.</summary>
    private bool HasMoved(int lane)
    {
        double fallen = 0.0, risen = 0.0;
        for (int i = 0; i < sites; i++)
        {
            double rise = logNominal[i][lane] - judgedLog[i][lane];
            risen = Math.Max(risen, rise);
            fallen = Math.Max(fallen, -rise);
        }

        return !(fallen < mayFall[lane] && risen < mayRise[lane]);
    }

    private void Judge(int lane)
    {
        batch.Count = 0;
        Enter(lane);
        JudgeEntered();
    }

    /// <summary>Puts a lane as it stands among the states to be judged together.</summary>
    private void Enter(int lane)
    {
        if (!judgesNow)
        {
            return;
        }

        int k = batch.Count++;
        batch.Lane[k] = lane;
        for (int i = 0; i < sites; i++)
        {
            batch.LogE[i][k] = logNominal[i][lane];
        }

        batch.LogRate[k] = lotRateLog[lane];
        batch.LimitShift[k] = limitShift[lane];
        batch.Rows[k] = RowsOf(lane);
    }

    /// <summary>Verdicts and bounds of all lanes entered.</summary>
    private void JudgeEntered()
    {
        bool indexed = judgesByProbability;
        if (indexed)
        {
            model.Judge.Probabilities(batch);
        }

        for (int k = 0; k < batch.Count; k++)
        {
            int lane = batch.Lane[k];
            for (int i = 0; i < sites; i++)
            {
                siteLog[i] = batch.LogE[i][k];
                judgedLog[i][lane] = siteLog[i];
                if (!double.IsFinite(siteLog[i]))
                {
                    throw new NotANumberException("irradiance at the bond", model.Values.World, Lifetime(lane), step, i);
                }
            }

            if (indexed && double.IsNaN(batch.Part[k]))
            {
                throw new NotANumberException("nonconforming probability of the state", model.Values.World, Lifetime(lane), step, 0);
            }

            double margin = model.Judge.NominalMargin(siteLog, lotRateLog[lane], limitShift[lane]);
            var (ok, bounds) = model.Judge.VerdictOf(indexed ? batch.Score[k] : double.NaN, batch.Uppermost[k], margin, SlopesOfLane(lane));
            partProbability[lane] = indexed ? batch.Part[k] : double.NaN;
            (mayFall[lane], mayRise[lane]) = (bounds.Fall, bounds.Rise);
            verdictInside[lane] = margin >= 0.0;
            verdictQualified[lane] = ok;
        }
    }

    private void SetQualified(int lane, bool now, double time)
    {
        if (now == qualified[lane])
        {
            return;
        }

        qualified[lane] = now;
        if (Traced(lane))
        {
            trace!.Add(time, now ? "excursion ends" : "excursion starts", "qualified state", null, partProbability[lane]);
        }

        if (now)
        {
            CloseExcursion(lane, time);
            return;
        }

        ref var record = ref Record(lane);
        outFrom[lane] = time;
        outFromParts[lane] = PartsAt(lane, time);
        detectedAt[lane] = double.NaN;
        record.Excursions++;
        Count(lane, CountedEvent.Excursion);
        inFirstExcursion[lane] = double.IsNaN(record.FirstExcursionSeconds);
        if (inFirstExcursion[lane])
        {
            record.FirstExcursionSeconds = time;
        }

        RaiseRequalify(lane, RequalifyEvent.StateLeft, time);
    }

    private void CloseExcursion(int lane, double time)
    {
        ref var record = ref Record(lane);
        record.OutSeconds += time - outFrom[lane];
        bool detected = !double.IsNaN(detectedAt[lane]);
        record.OutUndetectedSeconds += (detected ? detectedAt[lane] : time) - outFrom[lane];
        if (inFirstExcursion[lane] && !detected)
        {
            record.FirstExcursionParts = PartsAt(lane, time) - outFromParts[lane];
        }

        inFirstExcursion[lane] = false;
    }

    private void SetInside(int lane, bool now, double time)
    {
        if (now == inside[lane])
        {
            return;
        }

        inside[lane] = now;
        if (now)
        {
            CloseOutside(lane, time);
        }
        else
        {
            outsideFrom[lane] = time;
            outsideDetectedAt[lane] = double.NaN;
        }
    }

    private void CloseOutside(int lane, double time)
    {
        ref var record = ref Record(lane);
        record.OutOfWindowSeconds += time - outsideFrom[lane];
        record.OutOfWindowUndetectedSeconds += (double.IsNaN(outsideDetectedAt[lane]) ? time : outsideDetectedAt[lane]) - outsideFrom[lane];
    }

    /// <summary>Somebody learns that something is wrong: an excursion that is on counts as detected from now.</summary>
    private void Detect(int lane, double time)
    {
        if (!qualified[lane] && double.IsNaN(detectedAt[lane]))
        {
            detectedAt[lane] = time;
            if (inFirstExcursion[lane])
            {
                ref var record = ref Record(lane);
                record.FirstDetectionSeconds = time;
                record.FirstExcursionParts = PartsAt(lane, time) - outFromParts[lane];
            }

            if (Traced(lane))
            {
                trace!.Add(time, "excursion detected", null, null, null);
            }
        }

        if (!inside[lane] && double.IsNaN(outsideDetectedAt[lane]))
        {
            outsideDetectedAt[lane] = time;
        }
    }

    /// <summary>An event that may ask for requalification; one that persists is not counted again until a check has found it absent.</summary>
    private void RaiseRequalify(int lane, RequalifyEvent what, double time)
    {
        if (!requalifyOn[(int)what] || requalifying || lane >= count)
        {
            return;
        }

        bool latches = what is not (RequalifyEvent.EmitterReplaced or RequalifyEvent.GuideReplaced);
        if (latches && latched[lane][(int)what])
        {
            return;
        }

        latched[lane][(int)what] = latches;
        if (what == RequalifyEvent.LoopSaturated)
        {
            for (int e = 0; e < emitters; e++)
            {
                saturatedAtEvent[e][lane] |= saturated[e][lane] > 0.0;
            }
        }

        ref var record = ref Record(lane);
        if (double.IsNaN(record.RequalifySeconds) || (time == record.RequalifySeconds && what < record.RequalifyCause))
        {
            record.RequalifySeconds = time;
            record.RequalifyCause = what;
        }

        record.RequalifyEvents++;
        Count(lane, (CountedEvent)(int)what);
        if (Traced(lane))
        {
            trace!.Add(time, "requalify event", Words(what), null, null);
        }

        // What the cell will be requalified for at the end of the step: the earliest event, the earlier cause at equal time.
        if (double.IsNaN(requalifyAt[lane]) || time < requalifyAt[lane] || (time == requalifyAt[lane] && what < requalifyCause[lane]))
        {
            requalifyAt[lane] = time;
            requalifyCause[lane] = what;
        }
    }

    private static string Words(RequalifyEvent what) => what switch
    {
        RequalifyEvent.OutOfToleranceFound => "out of tolerance found",
        RequalifyEvent.StateLost => "state lost",
        RequalifyEvent.LoopSaturated => "loop saturated",
        RequalifyEvent.EmitterReplaced => "emitter replaced",
        RequalifyEvent.GuideReplaced => "guide replaced",
        _ => "state left",
    };
}
