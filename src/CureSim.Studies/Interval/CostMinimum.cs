using System.Collections.Immutable;
using CureSim.Core.Random;
using CureSim.Core.Statistics;

namespace CureSim.Studies.Interval;

/// <summary>Where the cost is lowest between the candidates: a + b/T + c·T fitted by least squares to the five plain candidates about the lowest, T* = √(b/c).</summary>
/// <remarks>
/// Cost of checking falls as 1/T, cost of what is not seen rises about as T: the form of the renewal argument for small λT (R. E. Barlow, L. C. Hunter and
/// F. Proschan, Optimum checking procedures, J. SIAM 11 (1963) 1078; recalled from memory). Relative residuals weigh alike. The interval is the percentile one of a bootstrap over
/// lifetimes (worlds when there are several), the same ones in every candidate.
/// </remarks>
public static class CostMinimum
{
    private const int Resamples = 400;
    private const int Nodes = 5;

    /// <summary>A fit that misses a candidate by more than this share of its cost is not of the cost's form; b/T + c·T rises by 5 % at 1.4 T*, so less would not be seen in T*.</summary>
    private const double MostMisfit = 0.05;

    /// <summary>T* in hours with its interval; withheld when there are too few candidates or the lowest cost lies at an end of them.</summary>
    public static Estimate Of(IReadOnlyList<CandidateRun> runs)
    {
        ArgumentNullException.ThrowIfNull(runs);
        CandidateRun[] plain = [.. runs.Where(r => r.Timing.IsPlain && r.Find(IntervalMeasures.Cost) is not null).OrderBy(r => r.IntervalHours)];
        if (plain.Length < Nodes)
        {
            return Estimate.Withhold($"at least {Nodes} plain intervals with costs are needed");
        }

        double[][] costs = [.. plain.Select(UnitCosts)];
        double[] means = [.. costs.Select(c => c.Average())];
        int least = Array.IndexOf(means, means.Min());
        if (least == 0 || least == plain.Length - 1)
        {
            return Estimate.Withhold($"the lowest cost is that of the {(least == 0 ? "shortest" : "longest")} candidate: the minimum lies at or beyond it");
        }

        int from = Math.Clamp(least - (Nodes / 2), 0, plain.Length - Nodes);
        double[] hours = [.. plain.Skip(from).Take(Nodes).Select(p => p.IntervalHours)];
        costs = [.. costs.Skip(from).Take(Nodes)];
        if (Fit(hours, [.. costs.Select(c => c.Average())], out double misfit) is not { } best)
        {
            return Estimate.Withhold("the cost has no minimum between the candidates");
        }

        if (misfit > MostMisfit)
        {
            return Estimate.Withhold(FormattableString.Invariant($"a + b/T + c·T misses a candidate by {100.0 * misfit:0} % of its cost, so where the minimum lies cannot be read from it"));
        }

        var stream = StreamKey.Of(DrawDomain.Reserved, "studies.cost-minimum-bootstrap");
        ulong seed = plain[0].Scenario.Run.Seed;
        int n = costs[0].Length;
        var found = new List<double>(Resamples);
        var sums = new double[Nodes];
        for (int r = 0; r < Resamples; r++)
        {
            Array.Clear(sums);
            for (int i = 0; i < n; i++)
            {
                int picked = Math.Min(n - 1, (int)(n * Draw.Uniform(seed, 0, (uint)r, stream, i)));
                for (int k = 0; k < Nodes; k++)
                {
                    sums[k] += costs[k][picked] / n;
                }
            }

            if (Fit(hours, sums, out _) is { } again)
            {
                found.Add(again);
            }
        }

        if (found.Count < Resamples * 0.95)
        {
            return Estimate.Withhold("in many resamples the cost has no minimum between the candidates; more lifetimes are needed");
        }

        double[] sorted = [.. found.Order()];
        return Estimate.Bounded(best, null, SampleQuantile.OfSorted(sorted, 0.025), SampleQuantile.OfSorted(sorted, 0.975), n);
    }

    /// <summary>T* of a + b/T + c·T through costs at intervals, each residual relative to its cost; null when b or c is not above zero.</summary>
    /// <param name="hours">Intervals, h.</param>
    /// <param name="costs">Costs, above 0.</param>
    /// <param name="misfit">Largest residual as a share of its cost.</param>
    public static double? Fit(double[] hours, double[] costs, out double misfit)
    {
        ArgumentNullException.ThrowIfNull(hours);
        ArgumentNullException.ThrowIfNull(costs);
        // Normal equations of three unknowns; hours are scaled to their geometric mean so that the columns are of one size.
        double scale = Math.Exp(hours.Average(Math.Log));
        var m = new double[3, 4];
        for (int i = 0; i < hours.Length; i++)
        {
            double t = hours[i] / scale, w = 1.0 / (costs[i] * costs[i]);
            double[] row = [1.0, 1.0 / t, t];
            for (int a = 0; a < 3; a++)
            {
                for (int b = 0; b < 3; b++)
                {
                    m[a, b] += w * row[a] * row[b];
                }

                m[a, 3] += w * row[a] * costs[i];
            }
        }

        for (int a = 0; a < 3; a++)
        {
            for (int b = 0; b < 3; b++)
            {
                if (b != a)
                {
                    double factor = m[b, a] / m[a, a];
                    for (int c = a; c < 4; c++)
                    {
                        m[b, c] -= factor * m[a, c];
                    }
                }
            }
        }

        double constant = m[0, 3] / m[0, 0], inverse = m[1, 3] / m[1, 1], linear = m[2, 3] / m[2, 2];
        misfit = Enumerable.Range(0, hours.Length).Max(i => Math.Abs(((constant + (inverse * scale / hours[i]) + (linear * hours[i] / scale)) / costs[i]) - 1.0));
        return inverse > 0.0 && linear > 0.0 ? scale * Math.Sqrt(inverse / linear) : null;
    }

    private static double[] UnitCosts(CandidateRun run)
    {
        var total = CostParts.Of(run.Scenario, run.Scenario.Costs!)[0];
        var records = run.Records.ToArray();
        return run.Scenario.Run.Worlds > 1
            ? [.. records.GroupBy(r => r.World).OrderBy(g => g.Key).Select(g => g.Average(total.Amount))]
            : [.. records.Select(total.Amount)];
    }
}
