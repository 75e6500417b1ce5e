using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using CureSim.Core.Cell;
using CureSim.Core.Numerics;
using CureSim.Core.Random;
using CureSim.Core.Summaries;
using CureSim.Engine.Plan;
using CureSim.Engine.State;

namespace CureSim.Engine.Block;

/// <content>Closing a time bin and a lifetime: lanes of a leaf are summed in a fixed tree and merged.</content>
public sealed partial class LifetimeBlock
{
    private readonly double[][] shareSums = new double[LevelShares.SourceCount][];
    private readonly double[][] shareProducts = new double[LevelShares.SourceCount][];
    private double[] shareH = [];
    private double[] shareH2 = [];
    private double[] shareN = [];
    private double[] logDose = [];
    private double[] logUseful = [];
    private double[] conditionalStep = [];
    private double[] tree = [];
    private double[] endScore = [];
    private bool[] qualifiedAtEnd = [];
    private double doseCentre;
    private int bin;

    private static int SummaryLayoutIndex(double part) => SummaryLayout.IndexSlot(StateJudge.Index(part));

    private void AllocateShares()
    {
        for (int s = 0; s < LevelShares.SourceCount; s++)
        {
            shareSums[s] = new double[lanes];
            shareProducts[s] = new double[lanes];
        }

        shareH = new double[lanes];
        shareH2 = new double[lanes];
        shareN = new double[lanes];
        logDose = new double[lanes];
        logUseful = new double[lanes];
        conditionalStep = new double[lanes];
        tree = new double[plan.LeafSize];
        endScore = new double[lanes];
        qualifiedAtEnd = new bool[lanes];
        doseCentre = BlockMath.Log(layout.Responses[0].Centre);
    }

    /// <summary>Adds the first part of the step to the variance shares: each source's ln factor with ln dose.</summary>
    [MethodImpl(Kernel.Options)]
    private void AddShares(int i)
    {
        int e = EmitterOf(i);
        BlockMath.Log(dose, logDose);
        if (!shared || i == 0)
        {
            FindLogUseful(e);
        }

        var useFul = Lanes.AsVectors(logUseful);
        var (centre, one) = (Vector512.Create(doseCentre), Vector512<double>.One);
        var mask = Lanes.AsVectors(madeMask);
        for (int v = 0; v < useFul.Length; v++)
        {
            var counted = allMade ? one : one & mask[v];
            var h = (Lanes.AsVectors(logDose)[v] - centre) * counted;
            Lanes.AsVectors(shareN)[v] += counted;
            Lanes.AsVectors(shareH)[v] += h;
            Lanes.AsVectors(shareH2)[v] += h * h;
            var rest = h;
            var held = (useFul[v] - centre) * counted;
            rest -= Share(VarianceSource.SourceAsHeld, v, held, h);
            var guide = Lanes.AsVectors(legLog[i])[v];
            if (guides > 0)
            {
                int g = e;
                guide += Lanes.AsVectors(guideTransmission[g])[v] - (Lanes.AsVectors(guideLoss[g])[v] * Lanes.AsVectors(guideLit[g])[v]);
            }

            rest -= Share(VarianceSource.Guide, v, guide * counted, h);
            rest -= Share(VarianceSource.Setup, v, (Lanes.AsVectors(reseatLog[i])[v] + Lanes.AsVectors(setupGeometryLog[i])[v]) * counted, h);
            rest -= Share(VarianceSource.Fouling, v, -(Lanes.AsVectors(foulRate[i])[v] * Lanes.AsVectors(exposures[i])[v]) * counted, h);
            rest -= Share(VarianceSource.Disturbances, v, Lanes.AsVectors(disturbanceLog[i])[v] * counted, h);
            rest -= Share(VarianceSource.SubstrateLot, v, Lanes.AsVectors(substrateNominalLog)[v] * counted, h);
            Share(VarianceSource.Part, v, rest, h);
        }
    }

    /// <summary>ln of the useful light of an emitter as it is driven, by lane.</summary>
    [MethodImpl(Kernel.Options)]
    private void FindLogUseful(int e)
    {
        var source = Lanes.AsVectors(emittedFull[e]);
        var u = Lanes.AsVectors(drive[e]);
        var useFul = Lanes.AsVectors(logUseful);
        for (int v = 0; v < useFul.Length; v++)
        {
            useFul[v] = source[v] * u[v];
        }

        BlockMath.Log(logUseful, logUseful);
        if (hasBandAgeing)
        {
            var rate = Lanes.AsVectors(bandRate[e]);
            var h = Lanes.AsVectors(burn[e]);
            for (int v = 0; v < useFul.Length; v++)
            {
                useFul[v] -= rate[v] * h[v];
            }
        }
    }

    private Vector512<double> Share(VarianceSource source, int v, Vector512<double> factor, Vector512<double> h)
    {
        Lanes.AsVectors(shareSums[(int)source])[v] += factor;
        Lanes.AsVectors(shareProducts[(int)source])[v] += factor * h;
        return factor;
    }

    /// <summary>
    /// The conditional fraction: in each stretch of <see cref="RunPlan.ConditionalStride"/> steps one is chosen at random for each lifetime; the state
    /// that its first part sees is judged. Every step and part has the same chance, so the mean is that of the count.
    /// </summary>
    [MethodImpl(Kernel.Options)]
    private void AddConditional(bool special)
    {
        int stride = RunPlan.ConditionalStride, offset = step % stride;
        if (offset == 0)
        {
            UniformBlock.Fill(plan.Seed, model.Values.World, first, model.Conditional, step / stride, conditionalStep);
        }

        batch.Count = 0;
        for (int lane = 0; lane < count; lane++)
        {
            if ((int)(conditionalStep[lane] * stride) != offset)
            {
                continue;
            }

            ref var record = ref records[lane];
            if (!special || (!walks[lane] && (allMade || madeMask[lane] != 0.0)))
            {
                if (IsFresh(lane))
                {
                    AddConditional(ref record, (fresh[lane].Part, fresh[lane].Bond));
                }
                else
                {
                    Enter(lane);
                }
            }
            else if (walks[lane] && madeMask[lane] != 0.0)
            {
                AddConditional(ref record, ProbabilityIn(SegmentAt(lane, (step + partTimes[lane]) * stepSeconds)));
            }
        }

        model.Judge.Probabilities(batch);
        for (int k = 0; k < batch.Count; k++)
        {
            AddConditional(ref records[batch.Lane[k]], (batch.Part[k], batch.Bond[k]));
        }
    }

    private static void AddConditional(ref LifetimeRecord record, (double Part, double Bond) p)
    {
        record.ConditionalParts += p.Part;
        record.ConditionalBonds += p.Bond;
        record.ConditionalStates++;
    }

    private (double Part, double Bond) ProbabilityIn(Segment segment)
    {
        var table = model.Judge.Table;
        Span<double> row = table.IsSingleRow || table.Spread <= 0.0 ? singleRow : new double[sites * OwnFactorTable.Points];
        if (!table.IsSingleRow && table.Spread > 0.0)
        {
            for (int i = 0; i < sites; i++)
            {
                double rho = Math.Sqrt((segment.X[i] * segment.X[i]) + (segment.Y[i] * segment.Y[i]));
                table.Slice(segment.Distance[i] + model.DistancePart.Mean, rho, absorption[segment.Lane], row.Slice(i * OwnFactorTable.Points, OwnFactorTable.Points));
            }
        }

        return model.Judge.Probability(segment.LogNominal, row, lotRateLog[segment.Lane], limitShift[segment.Lane]);
    }

    /// <summary>After a step: parts made by the clock; at the end of a time bin its sums are merged into the leaves.</summary>
    private void CloseBin()
    {
        var made = Lanes.AsVectors(partsMade);
        var part = Lanes.AsVectors(up);
        for (int v = 0; v < made.Length; v++)
        {
            made[v] += Vector512.Create(scenario.Production.PartsPerSecond) * part[v] * Vector512.Create(stepSeconds);
        }

        if (step + 1 != layout.BinEndSteps[bin])
        {
            return;
        }

        bool last = bin == layout.BinCount - 1;
        for (int from = 0; from < count; from += plan.LeafSize)
        {
            CloseLeafBin(leaves[from / plan.LeafSize], from, Math.Min(count, from + plan.LeafSize), last);
        }

        ClearBin();
        if (!last)
        {
            bin++;
        }
    }

    private void CloseLeafBin(CellSummary leaf, int from, int to, bool last)
    {
        for (int r = 0; r < layout.Responses.Length; r++)
        {
            double centre = layout.Responses[r].Centre;
            for (int i = 0; i < sites; i++)
            {
                var s = sums[r, i];
                var moments = Moments.FromPowerSums(
                    centre, TreeSum(s.BinN, from, to), TreeSum(s.Bin1, from, to), TreeSum(s.Bin2, from, to), TreeSum(s.Bin3, from, to), TreeSum(s.Bin4, from, to));
                if (!double.IsFinite(moments.Mean + moments.M2))
                {
                    throw new NotANumberException("sum of " + layout.Responses[r].Response, model.Values.World, Lifetime(from), step, i);
                }

                leaf.BySite[r, i].Merge(moments);
                leaf.ByBin[r, bin].Merge(moments);
                if (r == 0)
                {
                    for (int lane = from; lane < to; lane++)
                    {
                        records[lane].DoseSum += (s.BinN[lane] * centre) + s.Bin1[lane];
                        records[lane].BondsSampled += s.BinN[lane];
                    }
                }
            }
        }

        leaf.BondsByBin[bin] += (long)TreeSum(binBonds, from, to);
        leaf.NonconformingByBin[bin] += (long)TreeSum(binBondsBad, from, to);
        for (int lane = from; lane < to; lane++)
        {
            if (qualifiedAtEnd[lane])
            {
                leaf.QualifiedAtBin[bin]++;
            }

            int slot = SummaryLayout.IndexSlot(endScore[lane] / -3.0);
            timeline.IndexByBin![bin][slot]++;
            if (layout.BinEndsOnCheck[bin])
            {
                leaf.IndexAt[1][slot]++;
            }

            if (last)
            {
                leaf.IndexAt[2][slot]++;
            }
        }
    }

    /// <summary>Sum over the lanes of a leaf in a fixed binary tree.</summary>
    private double TreeSum(double[] values, int from, int to)
    {
        int n = to - from;
        values.AsSpan(from, n).CopyTo(tree);
        while (n > 1)
        {
            int half = (n + 1) / 2;
            for (int i = 0; i + half < n; i++)
            {
                tree[i] += tree[i + half];
            }

            n = half;
        }

        return tree[0];
    }

    private void ClearBin()
    {
        foreach (var s in sums)
        {
            s.BinN.AsSpan().Clear();
            s.Bin1.AsSpan().Clear();
            s.Bin2.AsSpan().Clear();
            s.Bin3.AsSpan().Clear();
            s.Bin4.AsSpan().Clear();
        }

        binBonds.AsSpan().Clear();
        binBondsBad.AsSpan().Clear();
    }

    /// <summary>The horizon is reached: open intervals are closed, sums of whole lifetimes go into leaves and records.</summary>
    private void CloseLifetimes()
    {
        step = scenario.Production.StepCount;
        double horizon = step * stepSeconds;
        for (int lane = 0; lane < count; lane++)
        {
            ref var record = ref records[lane];
            if (!qualified[lane])
            {
                CloseExcursion(lane, horizon);
            }

            if (!inside[lane])
            {
                CloseOutside(lane, horizon);
            }

            record.PartsMade = partsMade[lane];
            record.BondsNonconforming = bondsBad[lane];
            record.PartsSampled = partsSampled[lane];
            record.PartsNonconforming = partsBad[lane];
        }

        Span<double> f = stackalloc double[LevelShares.SourceCount], p = stackalloc double[LevelShares.SourceCount];
        for (int from = 0; from < count; from += plan.LeafSize)
        {
            var leaf = leaves[from / plan.LeafSize];
            int to = Math.Min(count, from + plan.LeafSize);
            leaf.Lifetimes = to - from;
            for (int r = 0; r < layout.Responses.Length; r++)
            {
                for (int i = 0; i < sites; i++)
                {
                    leaf.WithinSum[r, i] = TreeSum(sums[r, i].Within, from, to);
                    leaf.WithinGroups[r, i] = TreeSum(sums[r, i].WithinGroups, from, to);
                    leaf.BelowLower[r] += (long)TreeSum(sums[r, i].Below, from, to);
                    leaf.AboveUpper[r] += (long)TreeSum(sums[r, i].Above, from, to);
                }
            }

            for (int s = 0; s < LevelShares.SourceCount; s++)
            {
                f[s] = TreeSum(shareSums[s], from, to);
                p[s] = TreeSum(shareProducts[s], from, to);
            }

            leaf.Shares.AddSums(TreeSum(shareN, from, to), f, p, TreeSum(shareH, from, to), TreeSum(shareH2, from, to));
        }
    }

    /// <summary>The state at the middle of the step: written down when the lifetime is replayed, and kept at the end of a time bin.</summary>
    private void NoteMiddle()
    {
        if (trace is not null && !walks[0])
        {
            TraceMiddle();
        }

        if (step + 1 != layout.BinEndSteps[bin])
        {
            return;
        }

        batch.Count = 0;
        for (int lane = 0; lane < count; lane++)
        {
            if (!IsFresh(lane))
            {
                Enter(lane);
            }

            qualifiedAtEnd[lane] = qualified[lane];
        }

        model.Judge.Probabilities(batch);
        KeepFresh();
        for (int lane = 0; lane < count; lane++)
        {
            endScore[lane] = fresh[lane].Score;
        }
    }

    private void TraceMiddle()
    {
        var at = new TraceSite[sites];
        for (int i = 0; i < sites; i++)
        {
            int e = EmitterOf(i);
            at[i] = new(
                burn[e][0], guides > 0 ? guideLit[e][0] : 0.0, exposures[i][0], drive[e][0], sensedFull[e][0], BlockMath.Exp(logNominal[i][0]), distance[i][0]);
        }

        trace!.Steps.Add(new((step + 0.5) * stepSeconds, [.. at], qualified[0], inside[0], ProbabilityNow(0).Part));
    }
}
