using CureSim.Core.Statistics;

namespace CureSim.Studies.Assurance;

/// <summary>Shares of lifetimes: exact binomial intervals with one world; with several the worlds are the units, since lifetimes of one share what is unknown.</summary>
/// <param name="worlds">World of each lifetime.</param>
/// <param name="count">Number of worlds.</param>
internal sealed class LifetimeShares(int[] worlds, int count)
{
    /// <summary>With fewer lifetimes than this on either side the scatter of worlds says little.</summary>
    private const int LeastSeen = 10;

    /// <summary>Share of those with <paramref name="of"/> that have <paramref name="having"/> too.</summary>
    /// <param name="having">Lifetimes of the numerator (counted where they are of the denominator too).</param>
    /// <param name="of">Lifetimes of the denominator.</param>
    /// <param name="nobody">Reason when the denominator is empty.</param>
    public AssuranceShare Counted(bool[] having, bool[] of, string nobody)
    {
        var (seen, trials) = (new double[count], new double[count]);
        for (int i = 0; i < of.Length; i++)
        {
            trials[worlds[i]] += of[i] ? 1.0 : 0.0;
            seen[worlds[i]] += of[i] && having[i] ? 1.0 : 0.0;
        }

        long k = (long)seen.Sum(), n = (long)trials.Sum();
        if (n == 0)
        {
            return new(Estimate.Withhold(nobody, 0), null);
        }

        if (count == 1)
        {
            return new(BinomialInterval.Counted(k, n), null);
        }

        long few = Math.Min(k, n - k);
        if (few < LeastSeen)
        {
            string seenWords = k == 0 ? "none" : few == k ? FormattableString.Invariant($"{k}") : few == 0 ? "all" : FormattableString.Invariant($"all but {few}");
            string enough = few == 0 ? "" : FormattableString.Invariant($"; about {Math.Ceiling((double)LeastSeen / few * of.Length / 100.0) * 100.0:0} lifetimes would be enough");
            return new(Estimate.Withhold(FormattableString.Invariant($"{seenWords} of {n} lifetimes, which share worlds, so no interval can be stated{enough}"), n), null);
        }

        double[] shares = [.. seen.Zip(trials, (a, m) => m > 0.0 ? a / m : 0.0)];
        return new(Held(BatchEstimate.Of(shares, trials)), Band(shares, trials));
    }

    /// <summary>Ratio of the sums of two amounts over lifetimes, by linearisation.</summary>
    public AssuranceShare Ratio(double[] numerator, double[] denominator, string nobody)
    {
        if (!(denominator.Sum() > 0.0))
        {
            return new(Estimate.Withhold(nobody, 0), null);
        }

        var (a, m) = (numerator, denominator);
        if (count > 1)
        {
            (a, m) = (new double[count], new double[count]);
            for (int i = 0; i < worlds.Length; i++)
            {
                a[worlds[i]] += numerator[i];
                m[worlds[i]] += denominator[i];
            }
        }

        return new(Held(BatchEstimate.Of([.. a.Zip(m, (x, y) => y > 0.0 ? x / y : 0.0)], m)), null);
    }

    private static Estimate Held(Estimate e) => e.Value is { } v
        ? Estimate.Bounded(v, e.StandardError, e.Lower95 is { } l ? Math.Max(0.0, l) : null, e.Upper95 is { } u ? Math.Min(1.0, u) : null, e.Count)
        : e;

    private static WorldBand Band(double[] shares, double[] trials) => trials.Any(m => m < 2.0)
        ? new(null, null, null, null, shares.Length, "some worlds have no such lifetimes")
        : WorldBand.Of(shares, [.. shares.Zip(trials, (p, m) => p * (1.0 - p) / (m - 1.0))]);
}
