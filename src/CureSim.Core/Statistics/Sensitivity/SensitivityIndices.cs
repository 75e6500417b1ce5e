using System.Collections.Immutable;

namespace CureSim.Core.Statistics.Sensitivity;

/// <summary>First-order and total index of one group of inputs.</summary>
/// <param name="First">Share of the variance that is removed on average when the group alone is known.</param>
/// <param name="Total">Share that is left on average when all else is known.</param>
public sealed record SensitivityIndex(Estimate First, Estimate Total);

/// <summary>Sobol' indices of an output by Jansen's estimators, with intervals over independent randomisations.</summary>
/// <remarks>
/// V = Σ(f(A) − f(B))²/2N; S_i = 1 − Σ(f(B) − f(A_B⁽ⁱ⁾))²/2NV; S_Ti = Σ(f(A) − f(A_B⁽ⁱ⁾))²/2NV. The variance from the same differences, and not from the spread of A,
/// makes S_i of an input without any effect exactly 0 and S_Ti of all inputs together exactly 1.
/// Source: M. J. W. Jansen, Computer Physics Communications 117 (1999) 35; A. Saltelli et al., ibid. 181 (2010) 259, Table 2 (row SEN-FORM).
/// Interval: jackknife over randomisations, all points of each together, because points of one randomisation depend on each other: standard error from the figures without
/// each randomisation, √((r − 1)/r·Σ(θ₍ᵢ₎ − θ₍·₎)²), and Student's t with r − 1 degrees of freedom (B. Efron and R. J. Tibshirani, An Introduction to the Bootstrap, 1993,
/// chapter 11; recalled from memory). The ends of a total index are not below 0, where it cannot be.
/// Not percentiles of a bootstrap: errors of single scrambles have heavy tails (kurtosis 6 to 9 at 512 points), so their percentiles over 32 scrambles are too narrow. Measured: docs/drivers.md.
/// </remarks>
public sealed class SensitivityIndices
{
    /// <summary>Randomisations that an interval rests on at least.</summary>
    public const int LeastRandomisations = 16;

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
    /// <param name="partition">The first so many groups hold every input once; 0: no sum is formed.</param>
    /// <returns>Null when the output does not vary, or in one randomisation only.</returns>
    public static SensitivityIndices? Of(IReadOnlyList<SensitivitySums> sums, int partition)
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

        var without = new double[r][];
        for (int i = 0; i < r; i++)
        {
            once[i] = 0.0;
            without[i] = Figures(sums, once, groups, partition);
            once[i] = 1.0;
            if (!(without[i][1] > 0.0))
            {
                return null;
            }
        }

        double multiple = BatchEstimate.Multiple(r);
        long count = (long)sums.Sum(s => s.Count);
        Estimate Bound(int f, double least = double.NegativeInfinity)
        {
            double mean = without.Average(w => w[f]), error = Math.Sqrt(without.Sum(w => (w[f] - mean) * (w[f] - mean)) * (r - 1.0) / r), half = multiple * error;
            return Estimate.Bounded(whole[f], error, Math.Max(least, whole[f] - half), whole[f] + half, count);
        }

        return new(Bound(0), Bound(1, 0.0), Bound(2), [.. Enumerable.Range(0, groups).Select(i => new SensitivityIndex(Bound(3 + i), Bound(3 + groups + i, 0.0)))]);
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
