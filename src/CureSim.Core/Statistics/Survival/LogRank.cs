namespace CureSim.Core.Statistics;

/// <summary>Result of a log-rank comparison of survival curves.</summary>
/// <param name="ChiSquare">Test statistic; null when withheld.</param>
/// <param name="DegreesOfFreedom">Groups − 1.</param>
/// <param name="PValue">P(χ² &gt; statistic); null when withheld.</param>
/// <param name="Observed">Events of each group.</param>
/// <param name="Expected">Events of each group expected if all shared one curve.</param>
/// <param name="Withheld">Why there is no test; null when there is.</param>
public sealed record LogRankResult(
    double? ChiSquare, int DegreesOfFreedom, double? PValue, IReadOnlyList<double> Observed, IReadOnlyList<double> Expected, string? Withheld = null);

/// <summary>The log-rank (Mantel–Haenszel) test.</summary>
/// <remarks>
/// At each event time: E_g = d n_g/n, Cov = d (n − d)/(n − 1) · (n_g δ_gh/n − n_g n_h/n²); χ² = (O − E)ᵀ V⁻¹ (O − E) over all groups but one.
/// Source: N. Mantel, Cancer Chemother. Rep. 50 (1966) 163; R. Peto and J. Peto, JRSS A 135 (1972) 185. Checked against: row SUR-KM-SUM, R survival.
/// </remarks>
public static class LogRank
{
    /// <summary>Compares groups numbered from 0.</summary>
    public static LogRankResult Test(ReadOnlySpan<double> times, ReadOnlySpan<bool> events, ReadOnlySpan<int> groups)
    {
        if (times.Length != events.Length || times.Length != groups.Length)
        {
            throw new ArgumentException("Times, events and groups must have one entry for each subject.");
        }

        int count = 0;
        int[] keys = new int[times.Length];
        for (int i = 0; i < keys.Length; i++)
        {
            ArgumentOutOfRangeException.ThrowIfNegative(groups[i], nameof(groups));
            count = Math.Max(count, groups[i] + 1);

            // One number carries both: 2·group + 1 for an event, shifted so that 0 is a valid key.
            keys[i] = (2 * groups[i]) + (events[i] ? 1 : 0);
        }

        var (t, key) = EventTimes.Sort(times, keys);
        double[] atRisk = new double[count];
        foreach (int k in key)
        {
            atRisk[k / 2]++;
        }

        double[] observed = new double[count];
        double[] expected = new double[count];
        double[,] variance = new double[count, count];
        for (int i = 0; i < t.Length;)
        {
            int end = EventTimes.EndOfTie(t, i);
            double n = t.Length - i;
            double died = 0;
            for (int j = i; j < end; j++)
            {
                died += key[j] & 1;
                observed[key[j] / 2] += key[j] & 1;
            }

            if (died > 0)
            {
                Accumulate(atRisk, died, n, expected, variance);
            }

            for (int j = i; j < end; j++)
            {
                atRisk[key[j] / 2]--;
            }

            i = end;
        }

        return Conclude(observed, expected, variance);
    }

    private static void Accumulate(double[] atRisk, double died, double n, double[] expected, double[,] variance)
    {
        double factor = n > 1.0 ? died * (n - died) / (n - 1.0) : 0.0;
        for (int g = 0; g < atRisk.Length; g++)
        {
            double share = atRisk[g] / n;
            expected[g] += died * share;
            for (int h = 0; h < atRisk.Length; h++)
            {
                variance[g, h] += factor * ((g == h ? share : 0.0) - (share * atRisk[h] / n));
            }
        }
    }

    private static LogRankResult Conclude(double[] observed, double[] expected, double[,] variance)
    {
        int free = observed.Length - 1;
        if (free < 1)
        {
            return new LogRankResult(null, 0, null, observed, expected, "fewer than two groups");
        }

        var v = MathNet.Numerics.LinearAlgebra.Matrix<double>.Build.Dense(free, free, (g, h) => variance[g, h]);
        var d = MathNet.Numerics.LinearAlgebra.Vector<double>.Build.Dense(free, g => observed[g] - expected[g]);
        var solved = v.LU().Solve(d);
        double chi = d.DotProduct(solved);
        return double.IsFinite(chi) && chi >= 0.0
            ? new LogRankResult(chi, free, ChiSquareLaw.Survival(chi, free), observed, expected)
            : new LogRankResult(null, free, null, observed, expected, "a group never shares the risk with another at an event");
    }
}
