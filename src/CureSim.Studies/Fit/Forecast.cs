using System.Collections.Immutable;
using CureSim.Core.Statistics;

namespace CureSim.Studies.Fit;

/// <summary>Quantiles of a remaining time, h; null where they lie beyond the horizon. With the range that the number of lifetimes leaves.</summary>
/// <param name="Low">10 %.</param>
/// <param name="Middle">50 %.</param>
/// <param name="High">90 %.</param>
public sealed record RemainingTime(Estimate Low, Estimate Middle, Estimate High);

/// <summary>Weights of simulated lifetimes by the likelihood of what was read.</summary>
/// <param name="Weights">One for each lifetime, adding up to 1; 0 for one that had to be requalified before.</param>
/// <param name="Effective">(Σw)²/Σw².</param>
/// <param name="Widening">Factor on the readings' error that was needed to keep enough lifetimes; 1: none.</param>
/// <param name="Chance">Share of simulated cells that lie at least as far from the others as this cell; small: the log contradicts the scenario.</param>
/// <remarks>
/// Importance weights w ∝ exp(−½Σ(s_j − s_j*)²/(λ²v_j)), s the summary of the readings (<see cref="CellSummaryNow"/>), v its error variance. When fewer than
/// <see cref="LeastEffective"/> lifetimes would be left, λ grows until they are (a tempered likelihood), and the remaining times are moved along a weighted linear regression on
/// the summaries to where the cell stands: the jitter that keeps the interval from carrying the widening. Source: A. Kong, J. S. Liu and W. H. Wong, J. Amer. Statist. Assoc. 89 (1994) 278
/// (effective sample size); M. A. Beaumont, W. Zhang and D. J. Balding, Genetics 162 (2002) 2025 (kernel on summaries, regression); both recalled from memory.
/// </remarks>
public sealed record HistoryWeights(double[] Weights, double Effective, double Widening, double Chance)
{
    /// <summary>Effective lifetimes that a forecast rests on at least. Common practice, no source.</summary>
    public const double LeastEffective = 100.0;

    /// <summary>Share below which the log contradicts the scenario. Common practice, no source.</summary>
    public const double Contradiction = 0.01;

    private const double MostWidening = 1e4;

    internal static HistoryWeights Of(CellSummaryNow seen, IReadOnlyList<CellSummaryNow?> simulated)
    {
        int n = simulated.Count;
        double[] spread = new double[CellSummaryNow.Count], mean = new double[CellSummaryNow.Count];
        int[] alive = [.. Enumerable.Range(0, n).Where(i => simulated[i] is not null)];
        for (int j = 0; j < CellSummaryNow.Count; j++)
        {
            mean[j] = alive.Length > 0 ? alive.Average(i => simulated[i]!.Values[j]) : 0.0;
            spread[j] = alive.Length > 1 ? alive.Sum(i => Math.Pow(simulated[i]!.Values[j] - mean[j], 2.0)) / (alive.Length - 1.0) : 0.0;
        }

        double Far(double[] s) => Enumerable.Range(0, CellSummaryNow.Count).Max(j => Math.Abs(s[j] - mean[j]) / Math.Sqrt(spread[j] + seen.ErrorVariances[j] + 1e-300));
        double far = Far(seen.Values), chance = (1.0 + alive.Count(i => Far(simulated[i]!.Values) >= far)) / (1.0 + alive.Length);
        double[] distance = [.. simulated.Select(s => s is null ? double.PositiveInfinity
            : Enumerable.Range(0, CellSummaryNow.Count).Where(j => seen.ErrorVariances[j] > 0.0).Sum(j => Math.Pow(s.Values[j] - seen.Values[j], 2.0) / seen.ErrorVariances[j]))];
        double least = distance.Min(), wanted = Math.Min(LeastEffective, 0.5 * alive.Length);
        if (!double.IsFinite(least))
        {
            return new(new double[n], 0.0, 1.0, chance);
        }

        double[] At(double widening)
        {
            double[] w = [.. distance.Select(d => double.IsFinite(d) ? Math.Exp(-0.5 * (d - least) / (widening * widening)) : 0.0)];
            double total = w.Sum();
            return [.. w.Select(v => v / total)];
        }

        double Effective(double[] w) => 1.0 / w.Sum(v => v * v);
        double low = 1.0, high = 1.0;
        while (Effective(At(high)) < wanted && high < MostWidening)
        {
            (low, high) = (high, 2.0 * high);
        }

        for (int i = 0; i < 50 && high - low > 1e-3 * high; i++)
        {
            double middle = 0.5 * (low + high);
            (low, high) = Effective(At(middle)) < wanted ? (middle, high) : (low, middle);
        }

        double[] weights = At(high);
        return new(weights, Effective(weights), high, chance);
    }

    /// <summary>Weighted quantiles 10, 50 and 90 % of remaining times, h; infinite beyond the horizon. NaN (never qualified) has no weight.</summary>
    internal static double[] Times(IReadOnlyList<double> hours, double[] weights)
    {
        var sorted = hours.Zip(weights).Where(p => p.Second > 0.0).OrderBy(p => p.First).ToArray();
        double total = sorted.Sum(p => p.Second), sum = 0.0;
        double[] found = [double.PositiveInfinity, double.PositiveInfinity, double.PositiveInfinity];
        foreach (var (h, w) in sorted)
        {
            for (int k = 0; k < Levels.Length; k++)
            {
                found[k] = sum < Levels[k] * total && sum + w >= Levels[k] * total ? h : found[k];
            }

            sum += w;
        }

        return found;
    }

    private static readonly double[] Levels = [0.1, 0.5, 0.9];

    /// <summary>Weighted quantiles of remaining times, h, with the range that the effective number of lifetimes leaves.</summary>
    internal static RemainingTime Quantiles(IReadOnlyList<double> hours, double[] weights, double effective)
    {
        var sorted = hours.Zip(weights).Where(p => p.Second > 0.0).OrderBy(p => p.First).ToArray();
        double At(double p)
        {
            double sum = 0.0;
            foreach (var (h, w) in sorted)
            {
                sum += w;
                if (sum >= p)
                {
                    return h;
                }
            }

            return sorted.Length > 0 ? sorted[^1].First : double.PositiveInfinity;
        }

        Estimate Of(double p)
        {
            double half = 1.959963984540054 * Math.Sqrt(p * (1.0 - p) / Math.Max(1.0, effective)), value = At(p), low = At(Math.Max(0.0, p - half)), high = At(Math.Min(1.0 - 1e-12, p + half));
            return double.IsFinite(value) ? Estimate.Bounded(value, null, low, double.IsFinite(high) ? high : null, (long)effective)
                : Estimate.Withhold("beyond the horizon", (long)effective, double.IsFinite(low) ? low : null);
        }

        return new(Of(0.1), Of(0.5), Of(0.9));
    }

    /// <summary>Remaining times moved to where the cell stands, by weighted least squares of ln time on the summaries; unchanged where a time is not finite.</summary>
    internal double[] Moved(double[] hours, CellSummaryNow seen, IReadOnlyList<CellSummaryNow?> simulated)
    {
        int[] used = [.. Enumerable.Range(0, hours.Length).Where(i => Weights[i] > 0.0 && double.IsFinite(hours[i]) && hours[i] > 0.0)];
        int[] columns = [.. Enumerable.Range(0, CellSummaryNow.Count).Where(j => seen.ErrorVariances[j] > 0.0)];
        if (Widening <= 1.0 || used.Length < 10 * (columns.Length + 1))
        {
            return hours;
        }

        // Scaled by the weighted spread; a column that says nothing is left out.
        var scales = columns.Select(j => Math.Sqrt(used.Sum(i => Weights[i] * Math.Pow(simulated[i]!.Values[j] - seen.Values[j], 2.0)))).ToArray();
        int[] kept = [.. Enumerable.Range(0, columns.Length).Where(c => scales[c] > 1e-12 * Math.Abs(seen.Values[columns[c]]) + 1e-300)];
        int p = kept.Length + 1;
        var normal = MathNet.Numerics.LinearAlgebra.Matrix<double>.Build.DenseIdentity(p) * 1e-6;
        var right = MathNet.Numerics.LinearAlgebra.Vector<double>.Build.Dense(p);
        double[] Row(int i) => [1.0, .. kept.Select(c => (simulated[i]!.Values[columns[c]] - seen.Values[columns[c]]) / scales[c])];
        foreach (int i in used)
        {
            double[] x = Row(i);
            double y = Math.Log(hours[i]);
            for (int a = 0; a < p; a++)
            {
                right[a] += Weights[i] * x[a] * y;
                for (int b = 0; b < p; b++)
                {
                    normal[a, b] += Weights[i] * x[a] * x[b];
                }
            }
        }

        var slope = normal.Solve(right);
        var moved = (double[])hours.Clone();
        foreach (int i in used)
        {
            double[] x = Row(i);
            double shift = 0.0;
            for (int a = 1; a < p; a++)
            {
                shift += slope[a] * x[a];
            }

            moved[i] = hours[i] * Math.Exp(-shift);
        }

        return moved;
    }
}
