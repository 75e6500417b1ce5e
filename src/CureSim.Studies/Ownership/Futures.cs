using CureSim.Core.Statistics;
using CureSim.Core.Summaries;

namespace CureSim.Studies.Ownership;

/// <summary>Simulated futures (a lifetime with its prices each) and the units that are independent of each other: lifetimes, or batches of a stratified world, or worlds.</summary>
/// <remarks>
/// Mean: ± Student's t over units. Share: exact binomial interval; where units hold several futures, with as many effective trials as give the standard error of the units' ratio
/// (L. Kish, Survey Sampling, 1965, section 8.2, recalled from memory). Percentile: the percentiles at the ends of the interval of the share below it
/// (R. S. Woodruff, JASA 47 (1952) 635, recalled from memory).
/// </remarks>
public sealed class Futures
{
    /// <summary>With fewer futures behind it no share or percentile is given.</summary>
    public const int LeastFutures = 10;

    private readonly int[] unitOf;
    private readonly int units;
    private readonly bool clustered;

    private Futures(int[] unitOf, int units)
    {
        this.unitOf = unitOf;
        this.units = units;
        clustered = units < unitOf.Length;
    }

    /// <summary>Number of futures.</summary>
    public int Count => unitOf.Length;

    /// <summary>The futures of a run's records.</summary>
    /// <param name="records">Records.</param>
    /// <param name="stratified">True when the lifetimes of a batch are not independent.</param>
    public static Futures Of(ReadOnlySpan<LifetimeRecord> records, bool stratified)
    {
        var unit = new int[records.Length];
        bool worlds = records.Length > 0 && records[^1].World > 0;
        for (int i = 0; i < unit.Length; i++)
        {
            unit[i] = worlds ? records[i].World : stratified ? records[i].Batch : i;
        }

        return new(unit, unit.Length == 0 ? 0 : unit.Max() + 1);
    }

    /// <summary>The mean.</summary>
    public Estimate Mean(double[] values) => Ratio(values, null);

    /// <summary>A ratio of totals, such as cost over parts.</summary>
    public Estimate Ratio(double[] numerator, double[]? denominator)
    {
        ArgumentNullException.ThrowIfNull(numerator);
        if (units < 2)
        {
            return Estimate.Withhold("fewer than two independent futures");
        }

        double a = 0.0, m = 0.0;
        for (int i = 0; i < numerator.Length; i++)
        {
            a += numerator[i];
            m += denominator?[i] ?? 1.0;
        }

        if (!double.IsFinite(a) || !(m > 0.0))
        {
            return Estimate.Withhold(double.IsFinite(a) ? "nothing to divide by" : "an option does not state it");
        }

        double ratio = a / m, error = RatioError(numerator, denominator, ratio, m);
        double half = new Core.Distributions.StudentTDistribution(units - 1).Quantile(0.975) * error;
        return Estimate.Bounded(ratio, error, ratio - half, ratio + half, units);
    }

    /// <summary>The share of futures in which something holds, among those that count.</summary>
    public Estimate Share(Func<int, bool> holds, Func<int, bool>? counts = null)
    {
        ArgumentNullException.ThrowIfNull(holds);
        var yes = new double[Count];
        var all = new double[Count];
        double seen = 0.0, trials = 0.0;
        for (int i = 0; i < Count; i++)
        {
            all[i] = counts?.Invoke(i) ?? true ? 1.0 : 0.0;
            yes[i] = all[i] > 0.0 && holds(i) ? 1.0 : 0.0;
            seen += yes[i];
            trials += all[i];
        }

        if (trials < LeastFutures)
        {
            return Estimate.Withhold($"fewer than {LeastFutures} simulated futures count", (long)trials);
        }

        double p = seen / trials, effective = trials;
        if (clustered)
        {
            int occupied = Enumerable.Range(0, Count).Where(i => all[i] > 0.0).Select(i => unitOf[i]).Distinct().Count();
            double error = RatioError(yes, all, p, trials);
            effective = error > 0.0 ? Math.Clamp(p * (1.0 - p) / (error * error), Math.Min(occupied, 2), trials) : occupied;
        }

        long n = Math.Max(1, (long)Math.Round(effective)), x = (long)Math.Round(p * n);
        var exact = BinomialInterval.ClopperPearson(x, n);
        return Estimate.Bounded(p, Math.Sqrt(p * (1.0 - p) / n), Math.Min(p, exact.Lower ?? 0.0), Math.Max(p, exact.Upper ?? 1.0), n);
    }

    /// <summary>A percentile over futures.</summary>
    public Estimate Quantile(double[] values, double p)
    {
        ArgumentNullException.ThrowIfNull(values);
        if (Count < LeastFutures || values.Any(v => !double.IsFinite(v)))
        {
            return Estimate.Withhold(Count < LeastFutures ? $"fewer than {LeastFutures} simulated futures" : "some futures have no value");
        }

        double[] sorted = [.. values.Order()];
        double value = SampleQuantile.OfSorted(sorted, p);
        double n = Count;
        if (clustered)
        {
            var below = Array.ConvertAll(values, v => v <= value ? 1.0 : 0.0);
            double share = below.Average(), error = RatioError(below, null, share, n);
            n = error > 0.0 ? Math.Clamp(share * (1.0 - share) / (error * error), Math.Min(units, 2), n) : units;
        }

        double half = 1.959963984540054 * Math.Sqrt(p * (1.0 - p) / n);
        double lower = SampleQuantile.OfSorted(sorted, Math.Max(0.0, p - half)), upper = SampleQuantile.OfSorted(sorted, Math.Min(1.0, p + half));
        return Estimate.Bounded(value, (upper - lower) / 3.92, lower, upper, (long)Math.Round(n));
    }

    // Standard error of Σa/Σm over units: √(n/(n−1)·Σ(a_u − r·m_u)²)/Σm.
    private double RatioError(double[] numerator, double[]? denominator, double ratio, double total)
    {
        var residual = new double[units];
        for (int i = 0; i < numerator.Length; i++)
        {
            residual[unitOf[i]] += numerator[i] - (ratio * (denominator?[i] ?? 1.0));
        }

        double square = 0.0;
        foreach (double r in residual)
        {
            square += r * r;
        }

        return units < 2 ? 0.0 : Math.Sqrt(square * units / (units - 1.0)) / total;
    }
}
