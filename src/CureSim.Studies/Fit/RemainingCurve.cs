using System.Collections.Immutable;
using CureSim.Core.Cell;
using CureSim.Core.Random;
using CureSim.Core.Statistics;
using CureSim.Studies.Runs;

namespace CureSim.Studies.Fit;

/// <summary>Share of cells still running after a time, with its 95 % Monte-Carlo band.</summary>
/// <param name="Hours">Time from now, h.</param>
/// <param name="Cell">Cells like this one.</param>
/// <param name="CellLow">Lower end of its band.</param>
/// <param name="CellHigh">Upper end.</param>
/// <param name="Fleet">All cells that come so far.</param>
/// <param name="FleetLow">Lower end of its band.</param>
/// <param name="FleetHigh">Upper end.</param>
public readonly record struct RemainingShare(double Hours, double Cell, double CellLow, double CellHigh, double Fleet, double FleetLow, double FleetHigh);

/// <summary>Makes the curve of cells still running, and its band by bootstrap of what was simulated independently (<see cref="MonteCarloUnit"/>).</summary>
/// <param name="threads">Threads.</param>
/// <param name="cancel">Cancels.</param>
/// <param name="samples">Bootstrap samples; a percentile at 2.5 % rests on a fortieth of them.</param>
/// <remarks>
/// Every sample draws as many units as there are, with replacement, and does all again: weights, their widening, the regression that moves times. The band is the type-7 percentile interval at each time
/// (B. Efron and R. J. Tibshirani, An Introduction to the Bootstrap, 1993, chapter 13; recalled from memory). Where lifetimes share strata it is too wide, never too narrow by more than n/(n − 1).
/// </remarks>
internal sealed class RemainingCurve(int threads, CancellationToken cancel, int samples = RemainingCurve.Samples)
{
    /// <summary>Bootstrap samples unless told.</summary>
    public const int Samples = 200;

    private const int Points = 160;
    private static readonly StreamKey Stream = StreamKey.Of(DrawDomain.Reserved, "time_left.band");

    /// <summary>The curve, and the quantiles of both times left with bootstrap intervals.</summary>
    /// <param name="scenario">The scenario: seed and worlds.</param>
    /// <param name="seen">What was read.</param>
    /// <param name="summaries">The same of the simulated cells; null for one that does not come so far.</param>
    /// <param name="hours">Their times left, h.</param>
    /// <param name="weights">Their weights.</param>
    /// <param name="mine">Times left as laid for this cell.</param>
    /// <param name="left">Time up to the horizon, h.</param>
    /// <param name="ofCell">Quantiles of the cell's time left.</param>
    /// <param name="ofFleet">The same of the fleet's.</param>
    public (ImmutableArray<RemainingShare> Curve, RemainingTime Cell, RemainingTime Fleet) Of(
        Scenario scenario, CellSummaryNow seen, CellSummaryNow?[] summaries, double[] hours, HistoryWeights weights, double[] mine, double left, RemainingTime ofCell, RemainingTime ofFleet)
    {
        double step = left / (Points - 1.0);
        double[] alive = [.. summaries.Select(s => s is null ? 0.0 : 1.0)], cell = Shares(mine, weights.Weights, step), fleet = Shares(hours, alive, step);
        int[][] members = [.. Enumerable.Range(0, hours.Length).GroupBy(i => MonteCarloUnit.Of(scenario, i)).Select(g => g.ToArray())];
        var cells = new double[samples][];
        var fleets = new double[samples][];
        var cellTimes = new double[samples][];
        var fleetTimes = new double[samples][];
        Parallel.For(0, samples, new ParallelOptions { MaxDegreeOfParallelism = Math.Max(1, threads), CancellationToken = cancel }, b =>
        {
            int[] drawn = [.. Enumerable.Range(0, members.Length).SelectMany(u => members[Math.Min(members.Length - 1, (int)(members.Length * Draw.Uniform(scenario.Run.Seed, 0, (uint)b, Stream, u)))])];
            CellSummaryNow?[] again = [.. drawn.Select(i => summaries[i])];
            double[] times = [.. drawn.Select(i => hours[i])];
            var w = HistoryWeights.Of(seen, again);
            double[] laid = TimeLeft.Laid(w, times, seen, again), present = [.. drawn.Select(i => alive[i] / drawn.Length)];
            cells[b] = Shares(laid, w.Weights, step);
            fleets[b] = Shares(times, present, step);
            cellTimes[b] = HistoryWeights.Times(laid, w.Weights);
            fleetTimes[b] = HistoryWeights.Times(times, present);
        });

        ImmutableArray<RemainingShare> curve = [.. Enumerable.Range(0, Points).Select(k =>
        {
            double[] c = [.. cells.Select(s => s[k]).Order()], f = [.. fleets.Select(s => s[k]).Order()];
            double Low(double[] sorted, double at) => Math.Min(at, SampleQuantile.OfSorted(sorted, 0.025));
            double High(double[] sorted, double at) => Math.Max(at, SampleQuantile.OfSorted(sorted, 0.975));
            return new RemainingShare(k * step, cell[k], Low(c, cell[k]), High(c, cell[k]), fleet[k], Low(f, fleet[k]), High(f, fleet[k]));
        })];
        return (curve, Again(ofCell, cellTimes), Again(ofFleet, fleetTimes));
    }

    // Times beyond the horizon are infinite and stand at the end.
    private static RemainingTime Again(RemainingTime time, double[][] samples)
    {
        Estimate Of(Estimate e, int which)
        {
            double[] sorted = [.. samples.Select(s => s[which]).Order()];
            double low = At(sorted, 0.025), high = At(sorted, 0.975);
            return e.Value is { } v ? Estimate.Bounded(v, null, Math.Min(v, low), double.IsFinite(high) ? Math.Max(v, high) : null, e.Count)
                : Estimate.Withhold(e.Withheld!, e.Count, double.IsFinite(low) ? low : null);
        }

        // No interpolation between a time and one beyond the horizon.
        static double At(double[] sorted, double p) => sorted[(int)Math.Clamp(Math.Round(p * (sorted.Length - 1)), 0.0, sorted.Length - 1.0)];
        return new(Of(time.Low, 0), Of(time.Middle, 1), Of(time.High, 2));
    }

    // Share of the weight with a time above k·step, for every k.
    private static double[] Shares(double[] times, double[] weights, double step)
    {
        var ends = new double[Points + 1];
        double total = 0.0;
        for (int i = 0; i < times.Length; i++)
        {
            if (weights[i] > 0.0)
            {
                total += weights[i];
                ends[double.IsNaN(times[i]) ? 0 : (int)Math.Clamp(Math.Ceiling(times[i] / step), 0.0, Points)] += weights[i];
            }
        }

        var shares = new double[Points];
        double gone = 0.0;
        for (int k = 0; k < Points; k++)
        {
            gone += ends[k];
            shares[k] = total > 0.0 ? Math.Max(0.0, 1.0 - (gone / total)) : 0.0;
        }

        return shares;
    }
}
