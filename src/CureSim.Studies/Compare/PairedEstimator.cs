using CureSim.Core.Random;
using CureSim.Core.Statistics;
using CureSim.Core.Summaries;
using CureSim.Studies.Runs;

namespace CureSim.Studies.Compare;

/// <summary>Interval of a difference between two paired runs.</summary>
/// <remarks>
/// Batches or worlds: t interval from the differences of the units' figures (<see cref="BatchEstimate"/>).
/// Ratio of two sums over lifetimes: linearised, SE² = n/(n − 1) · Σ(dB − dA)², d = (a − R·m)/Σm of a lifetime (or world) in each run.
/// Survival figures of one world: bootstrap of pairs, percentile interval; lifetimes are drawn with replacement, the same ones in both runs.
/// Where lifetimes share out strata, batches take their place in both.
/// Source: W. G. Cochran, Sampling Techniques, 3rd ed. (1977), section 6.14 (difference of two ratios); B. Efron and R. J. Tibshirani,
/// An Introduction to the Bootstrap (1993), sections 8.3 and 13.3.
/// </remarks>
internal static class PairedEstimator
{
    private const int Resamples = 400;
    private const double Z = 1.9599639845400542;

    /// <summary>The difference B − A with its interval.</summary>
    public static Estimate Difference(Measure a, Measure b, double difference, PairedUnits pairs)
    {
        int lifetimes = pairs.WholeA.Records.Length;
        if (a.Error == ErrorBy.Lifetimes)
        {
            return pairs.AreWorlds || pairs.AreDependent
                ? OfRatios(a, b, difference, Sums(a, pairs.A), Sums(b, pairs.B), few: pairs.AreDependent)
                : OfRatios(a, b, difference, Terms(a, pairs.WholeA), Terms(b, pairs.WholeB), few: false);
        }

        if (!pairs.AreWorlds && lifetimes < MeasureEstimator.LeastLifetimes)
        {
            return Estimate.Bounded(difference, null, null, null, lifetimes);
        }

        return a.Error == ErrorBy.SurvivalCurve && !pairs.AreWorlds ? OfCurves(a, b, difference, pairs) : OfUnits(a, b, difference, pairs);
    }

    private static Estimate OfUnits(Measure a, Measure b, double difference, PairedUnits pairs)
    {
        double[] differences = new double[pairs.A.Length], weights = new double[pairs.A.Length];
        for (int u = 0; u < differences.Length; u++)
        {
            if (a.Value(pairs.A[u]) is not { } first || b.Value(pairs.B[u]) is not { } second || !double.IsFinite(second - first))
            {
                return Estimate.Withhold($"a {(pairs.AreWorlds ? "world" : "batch")} cannot give the figure, so the error of the difference cannot be seen");
            }

            differences[u] = second - first;
            weights[u] = pairs.A[u].Records.Length;
        }

        var spread = BatchEstimate.Of(differences, weights);
        if (spread.Withheld is { } reason)
        {
            return Estimate.Withhold(reason);
        }

        double half = (spread.Upper95!.Value - spread.Lower95!.Value) / 2.0;
        return Estimate.Bounded(difference, spread.StandardError, difference - half, difference + half, differences.Length);
    }

    private static Estimate OfRatios(Measure a, Measure b, double difference, (double Numerator, double Denominator)[] first, (double Numerator, double Denominator)[] second, bool few)
    {
        double[] dA = Deviations(first), dB = Deviations(second);
        int used = 0;
        double squares = 0.0;
        for (int i = 0; i < dA.Length; i++)
        {
            double d = (b.Scale * dB[i]) - (a.Scale * dA[i]);
            squares += d * d;
            used += first[i].Denominator > 0.0 || second[i].Denominator > 0.0 ? 1 : 0;
        }

        if (used < 2)
        {
            return Estimate.Bounded(difference, null, null, null, used);
        }

        double error = Math.Sqrt(squares * used / (used - 1.0)), multiple = few ? BatchEstimate.Multiple(used) : Z;
        return Estimate.Bounded(difference, error, difference - (multiple * error), difference + (multiple * error), used);
    }

    private static double[] Deviations((double Numerator, double Denominator)[] terms)
    {
        double numerator = terms.Sum(t => t.Numerator), denominator = terms.Sum(t => t.Denominator);
        return [.. terms.Select(t => (t.Numerator - (numerator / denominator * t.Denominator)) / denominator)];
    }

    private static (double Numerator, double Denominator)[] Terms(Measure measure, RunPiece whole)
    {
        var terms = new (double, double)[whole.Records.Length];
        for (int i = 0; i < terms.Length; i++)
        {
            terms[i] = measure.Ratio!(whole.Records.Span[i]);
        }

        return terms;
    }

    private static (double Numerator, double Denominator)[] Sums(Measure measure, IEnumerable<RunPiece> worlds) =>
        [.. worlds.Select(w => Terms(measure, w).Aggregate((A: 0.0, M: 0.0), (sum, t) => (sum.A + t.Item1, sum.M + t.Item2)))];

    private static Estimate OfCurves(Measure a, Measure b, double difference, PairedUnits pairs)
    {
        var stream = StreamKey.Of(DrawDomain.Reserved, "studies.paired-bootstrap");
        int n = pairs.WholeA.Records.Length;
        var first = new LifetimeRecord[n];
        var second = new LifetimeRecord[n];
        var found = new List<double>(Resamples);
        for (int r = 0; r < Resamples; r++)
        {
            if (pairs.AreDependent)
            {
                (first, second) = WholeUnits(pairs, stream, (uint)r);
            }

            for (int i = 0; i < n && !pairs.AreDependent; i++)
            {
                int picked = Math.Min(n - 1, (int)(n * Draw.Uniform(pairs.Seed, 0, (uint)r, stream, i)));
                first[i] = pairs.WholeA.Records.Span[picked];
                second[i] = pairs.WholeB.Records.Span[picked];
            }

            if (a.Value(pairs.WholeA with { Records = first }) is { } x && b.Value(pairs.WholeB with { Records = second }) is { } y)
            {
                found.Add(y - x);
            }
        }

        if (found.Count < Resamples)
        {
            return Estimate.Withhold($"in {Resamples - found.Count} of {Resamples} resamples the figure is not reached within the horizon", n);
        }

        double[] sorted = [.. found.Order()];
        return Estimate.Bounded(
            difference, SampleMoments.Of(sorted).StandardDeviation, SampleQuantile.OfSorted(sorted, 0.025), SampleQuantile.OfSorted(sorted, 0.975), n);
    }

    /// <summary>As many batches as there are, with replacement: lifetimes that share out strata are drawn together.</summary>
    private static (LifetimeRecord[] First, LifetimeRecord[] Second) WholeUnits(PairedUnits pairs, StreamKey stream, uint resample)
    {
        int n = pairs.A.Length;
        int[] picked = [.. Enumerable.Range(0, n).Select(i => Math.Min(n - 1, (int)(n * Draw.Uniform(pairs.Seed, 0, resample, stream, i))))];
        return ([.. picked.SelectMany(u => pairs.A[u].Records.ToArray())], [.. picked.SelectMany(u => pairs.B[u].Records.ToArray())]);
    }
}
