using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using CureSim.Core.Cell;
using CureSim.Core.Numerics;
using CureSim.Core.Summaries;

namespace CureSim.Engine.Block;

/// <content>What happens inside a step: downtime, arrivals and failures at their own times, and what a part made at a given time sees.</content>
public sealed partial class LifetimeBlock
{
    private readonly List<Failure> failures = [];
    private readonly List<InsideEvent> insideEvents = [];
    private readonly List<int> walkers = [];
    private readonly List<Segment> segments = [];
    private double[] pendingDown = [];
    private double[] downAtStart = [];
    private double[] up = [];
    private double[] exposureHalf = [];
    private double[] scratch = [];
    private double[] useful = [];
    private bool[] walks = [];
    private bool anyDown;

    private readonly record struct Failure(int Lane, int Emitter, double Time, double BurnLeft);

    private readonly record struct InsideEvent(double Time, int Kind, int Which, int Place, double BurnLeft = 0.0);

    /// <summary>What parts of a lane see from a moment on, until the next segment of the same lane.</summary>
    private sealed record Segment(int Lane, double From, double[] Light, double[] Distance, double[] X, double[] Y, double[] LogNominal);

    private void AllocateInside()
    {
        pendingDown = new double[lanes];
        downAtStart = new double[lanes];
        up = new double[lanes];
        up.AsSpan().Fill(1.0);
        exposureHalf = new double[lanes];
        scratch = new double[lanes];
        useful = new double[lanes];
        walks = new bool[lanes];
    }

    /// <summary>Downtime, failures and arrivals of the step; how much each clock advances in half a step.</summary>
    private void BeginStep()
    {
        failures.Clear();
        foreach (int lane in walkers)
        {
            walks[lane] = false;
        }

        walkers.Clear();
        segments.Clear();
        TakeDowntime();
        FindFailures();
        FindArrivals();
        ClockRates();
    }

    [MethodImpl(Kernel.Options)]
    private void TakeDowntime()
    {
        anyDown = false;
        for (int lane = 0; lane < lanes; lane++)
        {
            double pending = pendingDown[lane];
            double now = Math.Min(pending, stepSeconds);
            downAtStart[lane] = now;
            pendingDown[lane] = pending - now;
            up[lane] = 1.0 - (now / stepSeconds);
            anyDown |= now > 0.0;
        }
    }

    [MethodImpl(Kernel.Options)]
    private void FindFailures()
    {
        if (model.Failure is null)
        {
            return;
        }

        bool exposuresOnly = scenario.Source.Lit == LitDuring.Exposures;
        for (int e = 0; e < emitters; e++)
        {
            for (int v = 0; v < lanes; v += Lanes.Width)
            {
                // Cheap test first: nobody fails whose burn time at full up-time stays below the failure time.
                var later = Lanes.Load(burn[e], v) + Vector512.Create((exposuresOnly ? exposureDuty : burnRateShift) * stepSeconds);
                if (Vector512.LessThanAll(later, Lanes.Load(failAt[e], v)))
                {
                    continue;
                }

                for (int lane = v; lane < v + Lanes.Width && lane < count; lane++)
                {
                    FailuresOf(e, lane, exposuresOnly);
                }
            }
        }
    }

    private void FailuresOf(int e, int lane, bool exposuresOnly)
    {
        double down = scenario.Downtimes.FailureSeconds, start = step * stepSeconds, end = (step + 1) * stepSeconds;
        double rate = exposuresOnly ? exposureDuty * (1.0 - (downAtStart[lane] / stepSeconds)) : burnRateShift;
        double left = Math.Max(0.0, failAt[e][lane] - burn[e][lane]), from = start, lost = 0.0;
        int number = emitterNumber[e][lane];
        while (rate > 0.0)
        {
            double at = from + (left / rate);
            if (!(at < end))
            {
                break;
            }

            double rest = rate * Math.Max(0.0, end - (exposuresOnly ? at + down : at));
            failures.Add(new(lane, e, at, rest));
            Walk(lane);
            number++;
            lost += Math.Min(down, end - at);
            pendingDown[lane] += Math.Max(0.0, down - (end - at));
            left = model.Failure!.At(Lifetime(lane), e, number);
            // The successor burns from the failure on when lit all shift, else from the end of the downtime.
            from = exposuresOnly ? at + down : at;
        }

        if (lost > 0.0)
        {
            anyDown = true;
            up[lane] = Math.Max(0.0, up[lane] - (lost / stepSeconds));
        }
    }

    [MethodImpl(Kernel.Options)]
    private void FindArrivals()
    {
        double end = (step + 1) * stepSeconds;
        var limit = Vector512.Create(end);
        for (int d = 0; d < model.Disturbances.Length; d++)
        {
            for (int place = 0; place < model.Disturbances[d].PlaceCount; place++)
            {
                double[] next = nextArrival[d][place];
                for (int v = 0; v < lanes; v += Lanes.Width)
                {
                    if (Vector512.LessThanAny(Lanes.Load(next, v), limit))
                    {
                        for (int lane = v; lane < v + Lanes.Width && lane < count; lane++)
                        {
                            if (next[lane] < end)
                            {
                                Walk(lane);
                            }
                        }
                    }
                }
            }
        }
    }

    private void Walk(int lane)
    {
        if (!walks[lane])
        {
            walks[lane] = true;
            walkers.Add(lane);
        }
    }

    [MethodImpl(Kernel.Options)]
    private void ClockRates()
    {
        bool exposuresOnly = scenario.Source.Lit == LitDuring.Exposures;
        double shiftHalf = 0.5 * burnRateShift * stepSeconds, dutyHalf = 0.5 * exposureDuty * stepSeconds, parts = 0.5 * exposuresPerStep;
        for (int lane = 0; lane < lanes; lane++)
        {
            double duty = dutyHalf * up[lane];
            double emitter = exposuresOnly ? duty : shiftHalf;
            exposureHalf[lane] = parts * up[lane];
            for (int e = 0; e < emitters; e++)
            {
                burnHalf[e][lane] = emitter;
            }

            for (int g = 0; g < guides; g++)
            {
                guideHalf[g][lane] = guideAsEmitter ? emitter : duty;
            }
        }
    }

    private void AdvanceToMiddle()
    {
        AdvanceEmitters(0);
        AdvancePath();
        RefreshEmitters();
    }

    private void AdvanceToEnd()
    {
        AdvanceEmitters(1);
        AdvancePath();
    }

    /// <summary>Takes arrivals, failures and the middle of the step in order of time, lane by lane.</summary>
    private void WalkInside()
    {
        double start = step * stepSeconds, end = (step + 1) * stepSeconds;
        foreach (int lane in walkers)
        {
            insideEvents.Clear();
            insideEvents.Add(new((step + 0.5) * stepSeconds, 0, 0, 0));
            foreach (var failure in failures)
            {
                if (failure.Lane == lane)
                {
                    insideEvents.Add(new(failure.Time, 1, failure.Emitter, 0, failure.BurnLeft));
                }
            }

            AddArrivals(lane, end);
            insideEvents.Sort((a, b) => a.Time.CompareTo(b.Time));
            AddSegment(lane, start);
            foreach (var item in insideEvents)
            {
                switch (item.Kind)
                {
                    case 0:
                        Judge(lane, item.Time);
                        if (Traced(lane))
                        {
                            TraceMiddle();
                        }

                        if (hasLoop)
                        {
                            SoundAlarm(lane, item.Time);
                        }

                        break;
                    case 1:
                        Fail(item.Which, lane, item.Time, item.BurnLeft);
                        AddSegment(lane, item.Time);
                        break;
                    default:
                        Arrive(item.Which, item.Place, lane, item.Time);
                        RefreshSites(lane);
                        Judge(lane, item.Time);
                        AddSegment(lane, item.Time);
                        break;
                }
            }
        }
    }

    /// <summary>Arrivals of a lane in this step, including those that follow each other within it; effects come when they are walked.</summary>
    private void AddArrivals(int lane, double end)
    {
        for (int d = 0; d < model.Disturbances.Length; d++)
        {
            var disturbance = model.Disturbances[d];
            for (int place = 0; place < disturbance.PlaceCount; place++)
            {
                double at = nextArrival[d][place][lane];
                for (long number = arrivalNumber[d][place][lane]; at < end; number++)
                {
                    insideEvents.Add(new(at, 2, d, place));
                    double u = model.Points.Uniform(Lifetime(lane), disturbance.Gap[place], number + 1);
                    at += -BlockMath.Log(u) / disturbance.RatePerSecond;
                }
            }
        }
    }

    private void RefreshSites(int lane)
    {
        for (int i = 0; i < sites; i++)
        {
            RefreshLight(i, lane, burn[EmitterOf(i)][lane]);
        }
    }

    /// <summary>A sudden failure: the line stops, a successor is installed, set up and set; it is judged at half the burn time left to it in the step.</summary>
    private void Fail(int e, int lane, double time, double burnLeft)
    {
        ref var record = ref Record(lane);
        record.EmittersFailed++;
        record.DowntimeSeconds += scenario.Downtimes.FailureSeconds;
        Count(lane, CountedEvent.EmitterFailed);
        if (Traced(lane))
        {
            trace!.Add(time, "emitter failed", null, shared ? null : e, burn[e][lane]);
        }

        Detect(lane, time);
        emitterNumber[e][lane]++;
        InstallEmitter(e, lane);
        SetUpSites(e, lane);
        RefreshEmitter(e, lane, 0.0);
        SetEmitter(e, lane, time, afterInstallation: true);
        burn[e][lane] = 0.5 * burnLeft;
        burnHalf[e][lane] = 0.5 * burnLeft;
        RefreshEmitter(e, lane, burn[e][lane]);
        SettleDrive(e, lane);
        DecideHarmByReplacement(e, lane);
        RaiseRequalify(lane, RequalifyEvent.EmitterReplaced, time);
        DoHarm(lane, time);
        RefreshSites(lane);
        Judge(lane, time);
    }

    private void AddSegment(int lane, double from)
    {
        double[] Copy(double[][] bySite)
        {
            var values = new double[sites];
            for (int i = 0; i < sites; i++)
            {
                values[i] = bySite[i][lane];
            }

            return values;
        }

        segments.Add(new(lane, from, Copy(light), Copy(distance), Copy(aimX), Copy(aimY), Copy(logNominal)));
    }

    /// <summary>The segment of a lane that a moment falls in.</summary>
    private Segment SegmentAt(int lane, double time)
    {
        Segment? found = null;
        foreach (var segment in segments)
        {
            if (segment.Lane == lane && (found is null || segment.From <= time))
            {
                found = segment;
            }
        }

        return found!;
    }

    /// <summary>True when the line is up at a moment of the step.</summary>
    private bool LineIsUp(int lane, double time)
    {
        if (time - (step * stepSeconds) < downAtStart[lane])
        {
            return false;
        }

        foreach (var failure in failures)
        {
            if (failure.Lane == lane && time >= failure.Time && time < failure.Time + scenario.Downtimes.FailureSeconds)
            {
                return false;
            }
        }

        return true;
    }
}
