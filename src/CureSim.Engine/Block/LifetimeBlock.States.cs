using CureSim.Core.Numerics;
using CureSim.Core.Random;
using CureSim.Engine.Plan;
using CureSim.Engine.Runs;

namespace CureSim.Engine.Block;

/// <content>Paths without parts: the states that a run would judge are written down instead.</content>
public sealed partial class LifetimeBlock
{
    /// <summary>Where states are kept; null: parts are made as usual.</summary>
    public StateRecording? Recording { get; init; }

    private void RecordStates(StateRecording recording)
    {
        int stride = RunPlan.ConditionalStride, offset = step % stride;
        if (offset == 0)
        {
            UniformBlock.Fill(plan.Seed, model.Values.World, first, model.Conditional, step / stride, conditionalStep);
        }

        bool special = anyDown || walkers.Count > 0;
        if (special)
        {
            UniformBlock.Fill(plan.Seed, model.Values.World, first, model.PartTime[0], Draw.PartIndex(step, 0), partTimes);
        }

        for (int lane = 0; lane < count; lane++)
        {
            if (recording.IsBeforeCheck(step))
            {
                Record(recording.BeforeCheck, lane, walks[lane] ? SegmentAt(lane, double.PositiveInfinity) : null);
            }

            if ((int)(conditionalStep[lane] * stride) != offset || !recording.Keeps(step, (int)Lifetime(lane)))
            {
                continue;
            }

            double time = special ? (step + partTimes[lane]) * stepSeconds : 0.0;
            if (!special || LineIsUp(lane, time))
            {
                Record(recording.Made, lane, walks[lane] ? SegmentAt(lane, time) : null);
            }
        }
    }

    private void Record(StateSet into, int lane, Segment? segment)
    {
        into.Begin((int)Lifetime(lane));
        for (int i = 0; i < sites; i++)
        {
            var (x, y) = segment is null ? (aimX[i][lane], aimY[i][lane]) : (segment.X[i], segment.Y[i]);
            into.AddSite(
                segment?.LogNominal[i] ?? logNominal[i][lane], (segment?.Distance[i] ?? distance[i][lane]) + model.DistancePart.Mean,
                Math.Sqrt((x * x) + (y * y)), absorption[lane]);
        }

        into.End(lotRateLog[lane], limitShift[lane]);
    }
}
