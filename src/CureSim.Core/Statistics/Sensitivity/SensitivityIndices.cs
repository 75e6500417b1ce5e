using System.Collections.Immutable;
using CureSim.Core.Random;

namespace CureSim.Core.Statistics.Sensitivity;

/// <summary>First-order and total index of one group of inputs.</summary>
/// <param name="First">Share of the variance that is removed on average when the group alone is known.</param>
/// <param name="Total">Share that is left on average when all else is known.</param>
public sealed record SensitivityIndex(Estimate First, Estimate Total);

/// <summary>Sobol' indices of an output by Jansen's estimators, with bootstrap intervals over independent randomisations.</summary>
/// <remarks>
/// V = Σ(f(A) − f(B))²/2N; S_i = 1 − Σ(f(B) − f(A_B⁽ⁱ⁾))²/2NV; S_Ti = Σ(f(A) − f(A_B⁽ⁱ⁾))²/2NV. The variance from the same differences, and not from the spread of A,
/// makes S_i of an input without any effect exactly 0 and S_Ti of all inputs together exactly 1.
/// Source: M. J. W. Jansen, Computer Physics Communications 117 (1999) 35; A. Saltelli et al., ibid. 181 (2010) 259, Table 2 (row SEN-FORM).
/// Interval: randomisations are drawn with replacement, all of their points together, because points of one randomisation depend on each other; percentiles of the
/// resampled index, at the levels that make the interval of a mean as wide as Student's: Φ(−√(r/(r − 1))·t₀.₉₇₅,r−₁), r randomisations
/// (T. C. Hesterberg, The American Statistician 69 (2015) 371, 'expanded percentile'; recalled from memory). Coverage measured: docs/drivers.md.
/// </remarks>
public sealed class SensitivityIndices
{
    /// <summary>Randomisations that an interval rests on at least.</summary>
    public const int LeastRandomisations = 16;

    /// <summary>Resamples of the bootstrap.</summary>
    public const int Resamples = 2000;

    private static readonly StreamKey Picks = StreamKey.Of(DrawDomain.Reserved, "statistics.sensitivity-bootstrap");

    private SensitivityIndices(Estimate mean, Estimate variance, Estimate firstOrderSum, ImmutableArray<SensitivityIndex> groups)
    {
        Mean = mean;
        Variance = variance;
        FirstOrderSum = firstOrderSum;
        Groups = groups;
    }

    /// <summary>Mean of the output.</summary>
    public Estimate Mean { get; }

    /// <summary>Variance of the output.</summary>
    public Estimate Variance { get; }

    /// <summary>Σ S_i over the groups that were said to make a partition: 1 without interaction, else less.</summary>
    public Estimate FirstOrderSum { get; }

    /// <summary>Indices by group.</summary>
    public ImmutableArray<SensitivityIndex> Groups { get; }

    /// <summary>Indices from the sums of independent randomisations.</summary>
    /// <param name="sums">One for each randomisation, with the same groups.</param>
    /// <param name="seed">Key of the bootstrap's draws.</param>
    /// <param name="partition">The first so many groups hold every input once; 0: no sum is formed.</param>
    /// <returns>Null when the output does not vary.</returns>
    public static SensitivityIndices? Of(IReadOnlyList<SensitivitySums> sums, ulong seed, int partition)
    {
        ArgumentNullException.ThrowIfNull(sums);
        int r = sums.Count, groups = sums[0].FromA.Count;
        if (r < LeastRandomisations)
        {
            throw new ArgumentException($"at least {LeastRandomisations} independent randomisations are needed for an interval", nameof(sums));
        }

        var once = new double[r];
        Array.Fill(once, 1.0);
        var whole = Figures(sums, once, groups, partition);
        if (!(whole[1] > 0.0))
        {
            return null;
        }

        var drawn = new double[whole.Length][];
        for (int f = 0; f < drawn.Length; f++)
        {
            drawn[f] = new double[Resamples];
        }

        var times = new double[r];
        for (int b = 0; b < Resamples; b++)
        {
            Array.Clear(times);
            for (int i = 0; i < r; i++)
            {
                times[Math.Min(r - 1, (int)(r * Draw.Uniform(seed, 0, (uint)b, Picks, i)))]++;
            }

            double[] figures = Figures(sums, times, groups, partition);
            for (int f = 0; f < drawn.Length; f++)
            {
                drawn[f][b] = double.IsFinite(figures[f]) ? figures[f] : whole[f];
            }
        }

        double tail = NormalLaw.Cdf(-Math.Sqrt(r / (r - 1.0)) * BatchEstimate.Multiple(r));
        long count = (long)sums.Sum(s => s.Count);
        Estimate Bound(int f)
        {
            Array.Sort(drawn[f]);
            double low = SampleQuantile.OfSorted(drawn[f], tail), high = SampleQuantile.OfSorted(drawn[f], 1.0 - tail);
            return Estimate.Bounded(whole[f], SampleMoments.Of(drawn[f]).StandardDeviation, Math.Min(low, whole[f]), Math.Max(high, whole[f]), count);
        }

        return new(Bound(0), Bound(1), Bound(2), [.. Enumerable.Range(0, groups).Select(i => new SensitivityIndex(Bound(3 + i), Bound(3 + groups + i)))]);
    }

    // Mean, variance, sum of first-order indices, first-order and total by group.
    private static double[] Figures(IReadOnlyList<SensitivitySums> sums, double[] times, int groups, int partition)
    {
        double n = 0.0, sum = 0.0, pair = 0.0;
        var figures = new double[3 + (2 * groups)];
        for (int r = 0; r < sums.Count; r++)
        {
            var s = sums[r];
            n += times[r] * s.Count;
            sum += times[r] * s.Sum;
            pair += times[r] * s.Pair;
            for (int i = 0; i < groups && times[r] > 0.0; i++)
            {
                figures[3 + i] += times[r] * s.FromB[i];
                figures[3 + groups + i] += times[r] * s.FromA[i];
            }
        }

        (figures[0], figures[1]) = (sum / n, pair / (2.0 * n));
        for (int i = 0; i < groups; i++)
        {
            figures[3 + i] = 1.0 - (figures[3 + i] / pair);
            figures[3 + groups + i] /= pair;
            figures[2] += i < partition ? figures[3 + i] : 0.0;
        }

        return figures;
    }
}
