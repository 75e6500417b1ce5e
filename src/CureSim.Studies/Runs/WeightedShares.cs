using CureSim.Core.Statistics;

namespace CureSim.Studies.Runs;

/// <summary>Shares and quantiles of weighted observations, several of which may stem from one independent unit, with 95 % Monte-Carlo intervals.</summary>
/// <param name="unit">Unit of each observation, from 0: what was simulated independently of the others.</param>
/// <param name="weight">Weight of each observation, ≥ 0.</param>
/// <remarks>
/// Share p = Σwx/Σw, standard error of a ratio of two sums over units, by linearisation (W. G. Cochran, Sampling Techniques, section 6.5); its interval is the exact binomial one of as many trials as
/// give that standard error (E. L. Korn and B. I. Graubard, Survey Methodology 24 (1998) 193). A quantile has the quantiles at the ends of the interval of the share below it
/// (R. S. Woodruff, J. Amer. Statist. Assoc. 47 (1952) 635). All recalled from memory.
/// </remarks>
internal sealed class WeightedShares(int[] unit, double[] weight)
{
    private const double Rounding = 1e-12; // of sums of weights

    private readonly int units = unit.Length == 0 ? 0 : unit.Max() + 1;

    /// <summary>Σw.</summary>
    public double Total { get; } = weight.Sum();

    /// <summary>Units that it rests on: (Σu)²/Σu², u the units' sums of weights.</summary>
    public double Effective => Total > 0.0 ? Total * Total / Sums(_ => true).Sum(s => s * s) : 0.0;

    /// <summary>The share of what <paramref name="holds"/> says.</summary>
    /// <param name="holds">By the number of an observation.</param>
    /// <param name="among">Of these only; null: of all.</param>
    public Estimate Share(Func<int, bool> holds, Func<int, bool>? among = null)
    {
        double[] all = Sums(among ?? (_ => true)), yes = Sums(i => (among?.Invoke(i) ?? true) && holds(i));
        double total = all.Sum();
        if (!(total > 0.0))
        {
            return Estimate.Withhold("nothing simulated is like it");
        }

        double p = Math.Clamp(yes.Sum() / total, 0.0, 1.0), squares = 0.0, support = total * total / all.Sum(s => s * s);
        for (int u = 0; u < units; u++)
        {
            double d = yes[u] - (p * all[u]);
            squares += d * d;
        }

        // A share next to nothing can look surer than so many units bear: they are the most trials that it counts for.
        double error = Math.Sqrt(squares) / total, n = error > 0.0 && p is > 0.0 and < 1.0 ? Math.Min(p * (1.0 - p) / (error * error), all.Count(s => s > 0.0)) : support;
        var exact = BinomialInterval.OfShare(p, n);
        return Estimate.Bounded(p, error, exact.Lower, exact.Upper, (long)n);
    }

    /// <summary>Quantiles of values; an infinite one is withheld.</summary>
    /// <param name="values">Of the observations.</param>
    /// <param name="among">Of these only.</param>
    /// <param name="levels">Shares below, 0 … 1.</param>
    /// <param name="beyond">Why a value that is not finite is withheld.</param>
    public Estimate[] Quantiles(IReadOnlyList<double> values, Func<int, bool> among, double[] levels, string beyond)
    {
        int[] sorted = [.. Enumerable.Range(0, values.Count).Where(i => weight[i] > 0.0 && among(i)).OrderBy(i => values[i])];
        double total = sorted.Sum(i => weight[i]);
        double At(double p)
        {
            double sum = 0.0;
            foreach (int i in sorted)
            {
                sum += weight[i];
                if (sum >= p * total * (1.0 - Rounding))
                {
                    return values[i];
                }
            }

            return values[sorted[^1]];
        }

        return [.. levels.Select(p =>
        {
            if (sorted.Length == 0)
            {
                return Estimate.Withhold("nothing simulated is like it");
            }

            double value = At(p);
            var below = Share(i => values[i] <= value, among);

            // The share below a value that carries weight of its own jumps past p: its interval is laid about p.
            double shift = p - below.Value!.Value, low = At(Math.Max(0.0, below.Lower95!.Value + shift)), high = At(Math.Min(1.0, below.Upper95!.Value + shift));
            return double.IsFinite(value) ? Estimate.Bounded(value, null, Math.Min(low, value), double.IsFinite(high) ? high : null, below.Count)
                : Estimate.Withhold(beyond, below.Count, double.IsFinite(low) ? low : null);
        })];
    }

    private double[] Sums(Func<int, bool> of)
    {
        var sums = new double[units];
        for (int i = 0; i < unit.Length; i++)
        {
            sums[unit[i]] += of(i) ? weight[i] : 0.0;
        }

        return sums;
    }
}
