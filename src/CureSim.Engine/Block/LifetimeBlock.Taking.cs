using CureSim.Core.Cell;
using CureSim.Core.Numerics;
using CureSim.Core.Random;
using CureSim.Engine.Runs;

namespace CureSim.Engine.Block;

/// <content>
/// Parts that qualifications take: when, lane by lane. They have the addresses of the step's further parts and look only at what the step has left,
/// so nothing else of the run changes.
/// </content>
public sealed partial class LifetimeBlock
{
    /// <summary>A step in which less of the time than this is left after downtime takes no parts; the next one does.</summary>
    private const double LeastUpTime = 0.05;

    private int[] checksSeen = [];
    private bool[] gateWaits = [];
    private TakingMarks[][] marks = [];

    /// <summary>What was in use at the last occasion of a taking in one lane.</summary>
    private struct TakingMarks
    {
        public int[]? Setups;
        public int SubstrateLot;
        public int AdhesiveLot;
    }

    private void TakeParts()
    {
        if (Beside.Takings is not { } takings)
        {
            return;
        }

        if (step == 0)
        {
            checksSeen = new int[lanes];
            gateWaits = new bool[lanes];
            marks = [.. takings.Takings.Select(_ => new TakingMarks[lanes])];
        }

        for (int lane = 0; lane < count; lane++)
        {
            int checks = records[lane].Checks;
            bool afterCheck = step == 0 || checks != checksSeen[lane] || gateWaits[lane];
            bool stands = up[lane] < LeastUpTime;
            checksSeen[lane] = checks;
            gateWaits[lane] = afterCheck && stands;
            for (int t = 0; t < takings.Takings.Length && !stands; t++)
            {
                var taking = takings.Takings[t];
                var sample = takings.At(t, model.Values.World, Lifetime(lane));
                if (sample.Occasions < taking.Occasions && GateOpen(taking.Gate, lane, afterCheck) && IsNew(taking, sample.Occasions, lane, ref marks[t][lane]))
                {
                    TakeOccasion(taking, sample, lane, ref marks[t][lane]);
                }
            }
        }
    }

    private bool GateOpen(QualificationGate gate, int lane, bool afterCheck) => gate switch
    {
        QualificationGate.None => true,
        QualificationGate.AfterCheck => afterCheck || scenario.Checks is null,
        _ => afterCheck && LeftWithinAdjust(lane),
    };

    private bool LeftWithinAdjust(int lane)
    {
        var checks = scenario.Checks!;
        for (int e = 0; e < emitters; e++)
        {
            var (from, to) = SitesOf(e);
            double sum = 0.0, least = double.PositiveInfinity;
            for (int i = from; i < to; i++)
            {
                sum += asLeft[i][lane];
                least = Math.Min(least, asLeft[i][lane]);
            }

            double left = checks.SetBy == LegIndication.Weakest ? least : sum / (to - from);
            if (Math.Abs((left / checks.TargetWattsPerSquareMetre) - 1.0) > checks.AdjustLimit)
            {
                return false;
            }
        }

        return true;
    }

    /// <summary>Whether what must differ from the occasion before does.</summary>
    private bool IsNew(PartTaking taking, int occasion, int lane, ref TakingMarks last)
    {
        int k = taking.Occasions;
        if (taking.EmitterAges > 1 && AgeClass(lane, taking.EmitterAges) != occasion * taking.EmitterAges / k)
        {
            return false;
        }

        if (occasion == 0)
        {
            return true;
        }

        bool Moves(int of) => occasion * of / k != (occasion - 1) * of / k;
        if (Moves(taking.Setups))
        {
            for (int i = 0; i < sites; i++)
            {
                if (setupNumber[i][lane] == last.Setups![i])
                {
                    return false;
                }
            }
        }

        // A kind of lot that never changes cannot be asked to.
        return !Moves(taking.Lots)
            || ((scenario.Substrate is not { LotSteps: > 0 } || SubstrateLot() != last.SubstrateLot) && (scenario.Cure is not { LotSteps: > 0 } || AdhesiveLot() != last.AdhesiveLot));
    }

    private int SubstrateLot() => scenario.Substrate is { LotSteps: > 0 } s ? step / s.LotSteps : 0;

    private int AdhesiveLot() => scenario.Cure is { LotSteps: > 0 } c ? step / c.LotSteps : 0;

    private int AgeClass(int lane, int classes)
    {
        double rate = scenario.Source.Lit == LitDuring.Exposures ? exposureDuty : burnRateShift;
        double life = scenario.Source.ReplaceAtBurnSeconds ?? (rate * scenario.Production.HorizonSeconds), age = 0.0;
        for (int e = 0; e < emitters; e++)
        {
            age += burn[e][lane] / emitters;
        }

        return Math.Min(classes - 1, (int)(classes * age / life));
    }

    private void TakeOccasion(PartTaking taking, TakenSample sample, int lane, ref TakingMarks last)
    {
        int wanted = taking.PartsAt(sample.Occasions), taken = 0;
        bool special = walks[lane] || downAtStart[lane] > 0.0;
        double probability = walks[lane] ? double.NaN : ProbabilityNow(lane).Part;
        for (int part = 0; taken < wanted && part < 1 << 16; part++)
        {
            for (int g = 0; g < groups && taken < wanted; g++)
            {
                double time = (step + Draw.Uniform(plan.Seed, model.Values.World, Lifetime(lane), model.PartTime[g], Draw.PartIndex(step, part))) * stepSeconds;
                if (special && !LineIsUp(lane, time))
                {
                    continue;
                }

                var seen = walks[lane] ? SegmentAt(lane, time) : null;
                LookAt(sample, lane, g, part, time, seen);
                sample.ProbabilitySum += seen is null ? probability : ProbabilityIn(seen).Part;
                taken++;
            }
        }

        double now = (step + 0.5) * stepSeconds;
        sample.FirstSeconds = sample.Occasions == 0 ? now : sample.FirstSeconds;
        sample.LastSeconds = now;
        sample.Parts += taken;
        sample.Occasions++;
        last.Setups ??= new int[sites];
        for (int i = 0; i < sites; i++)
        {
            last.Setups[i] = setupNumber[i][lane];
        }

        (last.SubstrateLot, last.AdhesiveLot) = (SubstrateLot(), AdhesiveLot());
    }
}
