using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using CureSim.Core.Cell;
using CureSim.Core.Numerics;
using CureSim.Core.Summaries;

namespace CureSim.Engine.Block;

/// <content>Sums of a step: power sums, counts outside the limits, histograms. Each lane sums its own parts in step order.</content>
public sealed partial class LifetimeBlock
{
    private readonly CellSummary[] leaves;
    private readonly CellSummary timeline;
    private readonly LifetimeRecord[] records;
    private LifetimeRecord spare;
    private bool allMade;

    // By response, site and lane: sums over the parts of the present step, and over the present time bin.
    private StepSums[,] sums = new StepSums[0, 0];
    private double[][] bondsMade = [];
    private double[] bondsBad = [];
    private double[] partsBad = [];
    private double[] partsSampled = [];
    private double[] binBondsBad = [];
    private double[] binBonds = [];
    private double[] partsMade = [];
    private double[] siteBad = [];

    private sealed class StepSums(int lanes)
    {
        public readonly double[] S1 = new double[lanes];
        public readonly double[] S2 = new double[lanes];
        public readonly double[] S3 = new double[lanes];
        public readonly double[] S4 = new double[lanes];
        public readonly double[] BinN = new double[lanes];
        public readonly double[] Bin1 = new double[lanes];
        public readonly double[] Bin2 = new double[lanes];
        public readonly double[] Bin3 = new double[lanes];
        public readonly double[] Bin4 = new double[lanes];
        public readonly double[] Within = new double[lanes];
        public readonly double[] WithinGroups = new double[lanes];
        public readonly double[] Below = new double[lanes];
        public readonly double[] Above = new double[lanes];
    }

    private void AllocateBins()
    {
        int responses = layout.Responses.Length;
        sums = new StepSums[responses, sites];
        for (int r = 0; r < responses; r++)
        {
            for (int i = 0; i < sites; i++)
            {
                sums[r, i] = new StepSums(lanes);
            }
        }

        bondsMade = NewArrays(sites);
        bondsBad = new double[lanes];
        partsBad = new double[lanes];
        partsSampled = new double[lanes];
        binBondsBad = new double[lanes];
        binBonds = new double[lanes];
        partsMade = new double[lanes];
        siteBad = new double[lanes];
        AllocateShares();
        for (int lane = 0; lane < count; lane++)
        {
            records[lane].World = model.Values.World;
            records[lane].Lifetime = Lifetime(lane);
            records[lane].Batch = (int)(Lifetime(lane) / plan.LeafSize % Plan.Leaves.Batches);
        }
    }

    private CellSummary LeafOf(int lane) => leaves[lane / plan.LeafSize];

    /// <summary>The record of a lane; padding lanes share one that nobody reads.</summary>
    private ref LifetimeRecord Record(int lane)
    {
        if (lane < count)
        {
            return ref records[lane];
        }

        return ref spare;
    }

    private void Count(int lane, CountedEvent what)
    {
        if (lane < count)
        {
            LeafOf(lane).EventsByBin[(int)what, bin]++;
        }
    }

    /// <summary>Parts made by the clock up to a moment of the present step.</summary>
    private double PartsAt(int lane, double time) =>
        partsMade[lane] + (scenario.Production.PartsPerSecond * up[lane] * Math.Max(0.0, time - (step * stepSeconds)));

    private void BeginPartSums()
    {
        foreach (var s in sums)
        {
            s.S1.AsSpan().Clear();
            s.S2.AsSpan().Clear();
            s.S3.AsSpan().Clear();
            s.S4.AsSpan().Clear();
        }

        for (int i = 0; i < sites; i++)
        {
            bondsMade[i].AsSpan().Clear();
        }

        if (!anyDown && walkers.Count == 0)
        {
            AddConditional(special: false);
        }
    }

    /// <summary>Adds one bond of every lane that made the part.</summary>
    [MethodImpl(Kernel.Options)]
    private void Summarise(int i, int part)
    {
        siteBad.AsSpan().Clear();
        for (int r = 0; r < layout.Responses.Length; r++)
        {
            var response = layout.Responses[r];
            double[] values = response.Response switch
            {
                Response.Irradiance => irradiance,
                Response.Dose => dose,
                _ => degree,
            };
            AddPowers(sums[r, i], values, response.Centre);
            CountOutside(sums[r, i], values, scenario.Window.For(response.Response), response.Response != Response.DegreeOfCure);
            AddHistogram(r, i, values, response, part == 0);
        }

        var bad = Lanes.AsVectors(siteBad);
        var any = Lanes.AsVectors(partBad);
        var made = Lanes.AsVectors(bondsMade[i]);
        var mask = Lanes.AsVectors(madeMask);
        var total = Lanes.AsVectors(bondsBad);
        var inBin = Lanes.AsVectors(binBondsBad);
        var one = Vector512<double>.One;
        for (int v = 0; v < bad.Length; v++)
        {
            var counted = allMade ? one : one & mask[v];
            made[v] += counted;
            any[v] |= bad[v];
            var hit = bad[v] & counted;
            total[v] += hit;
            inBin[v] += hit;
        }

        if (part == 0)
        {
            AddShares(i);
        }

        if (trace is not null && (allMade || madeMask[0] != 0.0))
        {
            trace.Bonds.Add(new(step, part, i, irradiance[0], dose[0], scenario.Cure is null ? double.NaN : degree[0]));
        }
    }

    [MethodImpl(Kernel.Options)]
    private void AddPowers(StepSums into, double[] values, double centre)
    {
        var x = Lanes.AsVectors(values);
        var mask = Lanes.AsVectors(madeMask);
        var s1 = Lanes.AsVectors(into.S1);
        var s2 = Lanes.AsVectors(into.S2);
        var s3 = Lanes.AsVectors(into.S3);
        var s4 = Lanes.AsVectors(into.S4);
        var c = Vector512.Create(centre);
        for (int v = 0; v < x.Length; v++)
        {
            var d = x[v] - c;
            if (!allMade)
            {
                d &= mask[v];
            }

            var d2 = d * d;
            s1[v] += d;
            s2[v] += d2;
            s3[v] += d2 * d;
            s4[v] += d2 * d2;
        }
    }

    /// <summary>Counts bonds below and above the limits; a study meter's persistent error moves the limits of irradiance and dose lane by lane.</summary>
    [MethodImpl(Kernel.Options)]
    private void CountOutside(StepSums into, double[] values, SpecificationLimits? limits, bool moves)
    {
        if (limits is null)
        {
            return;
        }

        bool shifted = moves && scenario.Window.InStudyMeterUnits;
        if (shifted)
        {
            BlockMath.Exp(limitShift, scratch);
        }

        var x = Lanes.AsVectors(values);
        var mask = Lanes.AsVectors(madeMask);
        var bad = Lanes.AsVectors(siteBad);
        var below = Lanes.AsVectors(into.Below);
        var above = Lanes.AsVectors(into.Above);
        var factor = Lanes.AsVectors(scratch);
        var (low, high) = (Vector512.Create(limits.Lower ?? double.NegativeInfinity), Vector512.Create(limits.Upper ?? double.PositiveInfinity));
        for (int v = 0; v < x.Length; v++)
        {
            var (l, h) = shifted ? (low * factor[v], high * factor[v]) : (low, high);
            var (under, over) = (Vector512.LessThan(x[v], l), Vector512.GreaterThan(x[v], h));
            if (!allMade)
            {
                (under, over) = (under & mask[v], over & mask[v]);
            }

            below[v] += under & Vector512<double>.One;
            above[v] += over & Vector512<double>.One;
            bad[v] |= under | over;
        }
    }

    private void AddHistogram(int r, int i, double[] values, ResponseLayout response, bool fan)
    {
        bool cure = response.Response == Response.DegreeOfCure;
        int[] fanCounts = timeline.Fans![r, bin];
        for (int from = 0; from < count; from += plan.LeafSize)
        {
            long[] counts = leaves[from / plan.LeafSize].Histograms[r, i].Counts;
            int to = Math.Min(count, from + plan.LeafSize);
            int whole = allMade && plan.LeafSize % Lanes.Width == 0 ? from + ((to - from) / Lanes.Width * Lanes.Width) : from;
            CountEights(values.AsSpan(from, whole - from), response, counts, fan ? fanCounts : [], cure);
            for (int lane = whole; lane < to; lane++)
            {
                if (!allMade && madeMask[lane] == 0.0)
                {
                    continue;
                }

                double value = cure ? 1.0 - values[lane] : values[lane];
                counts[response.Bins.Slot(value)]++;
                if (fan)
                {
                    fanCounts[response.FanBins.Slot(value)]++;
                }
            }
        }
    }

    /// <summary>Slots are found eight at a time; the counts themselves go up one by one, since neighbours may fall into one slot.</summary>
    [MethodImpl(Kernel.Options)]
    private static void CountEights(ReadOnlySpan<double> values, ResponseLayout response, Span<long> counts, Span<int> fanCounts, bool cure)
    {
        var (bins, fans) = (response.Bins, response.FanBins);
        var x = Lanes.AsVectors(values);
        for (int v = 0; v < x.Length; v++)
        {
            var value = cure ? Vector512<double>.One - x[v] : x[v];
            var slots = bins.Slots(value);
            for (int k = 0; k < Lanes.Width; k++)
            {
                counts[(int)slots.GetElement(k)]++;
            }

            if (fanCounts.Length > 0)
            {
                slots = fans.Slots(value);
                for (int k = 0; k < Lanes.Width; k++)
                {
                    fanCounts[(int)slots.GetElement(k)]++;
                }
            }
        }
    }

    [MethodImpl(Kernel.Options)]
    private void SummarisePart(int g, int part)
    {
        var bad = Lanes.AsVectors(partBad);
        var mask = Lanes.AsVectors(madeMask);
        var total = Lanes.AsVectors(partsBad);
        var sampled = Lanes.AsVectors(partsSampled);
        for (int v = 0; v < bad.Length; v++)
        {
            var counted = allMade ? Vector512<double>.One : Vector512<double>.One & mask[v];
            sampled[v] += counted;
            total[v] += bad[v] & counted;
        }
    }

    /// <summary>The step's sums go into those of the time bin; the spread within the step is kept apart.</summary>
    [MethodImpl(Kernel.Options)]
    private void EndPartSums()
    {
        var one = Vector512<double>.One;
        for (int i = 0; i < sites; i++)
        {
            var n = Lanes.AsVectors(bondsMade[i]);
            AddTo(binBonds, bondsMade[i]);
            for (int r = 0; r < layout.Responses.Length; r++)
            {
                var s = sums[r, i];
                AddTo(s.BinN, bondsMade[i]);
                AddTo(s.Bin1, s.S1);
                AddTo(s.Bin2, s.S2);
                AddTo(s.Bin3, s.S3);
                AddTo(s.Bin4, s.S4);
                var s1 = Lanes.AsVectors(s.S1);
                var s2 = Lanes.AsVectors(s.S2);
                var within = Lanes.AsVectors(s.Within);
                var groupsSeen = Lanes.AsVectors(s.WithinGroups);
                for (int v = 0; v < n.Length; v++)
                {
                    var enough = Vector512.GreaterThan(n[v], one);
                    var variance = (s2[v] - (s1[v] * s1[v] / n[v])) / (n[v] - one);
                    within[v] += Vector512.ConditionalSelect(enough, Vector512.Max(variance, Vector512<double>.Zero), Vector512<double>.Zero);
                    groupsSeen[v] += enough & one;
                }
            }
        }
    }
}
