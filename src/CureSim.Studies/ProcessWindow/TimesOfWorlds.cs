using CureSim.Core.Statistics;

namespace CureSim.Studies.ProcessWindow;

/// <summary>Times to an event of lifetimes that share worlds, followed to one horizon: share and quantiles with intervals that do not take lifetimes of a world for independent.</summary>
/// <remarks>
/// The effective number of lifetimes is s(1 − s)/SE², SE² the variance of the mean share over worlds, held between the number of worlds and that of lifetimes (design effect; L. Kish,
/// Survey Sampling, 1965, from memory). Intervals are the exact binomial ones at that number; those of a quantile are the times at which the pooled share reaches the ends of the interval of p.
/// </remarks>
internal sealed class TimesOfWorlds
{
    private readonly (int World, double Time, bool Happened)[] all;
    private readonly int worlds;

    /// <summary>Takes the times, in any unit; what did not happen has the horizon as its time.</summary>
    public TimesOfWorlds(IEnumerable<(int World, double Time, bool Happened)> times)
    {
        all = [.. times.OrderBy(t => t.Happened ? t.Time : double.PositiveInfinity)];
        worlds = all.Select(t => t.World).Distinct().Count();
    }

    /// <summary>Share that has met the event by the horizon.</summary>
    public Estimate Share()
    {
        int seen = all.Count(t => t.Happened);
        if (seen == 0)
        {
            // Nothing seen: an upper bound, and only the worlds are known to be independent.
            return BinomialInterval.Counted(0, worlds);
        }

        double share = seen / (double)all.Length;
        var (number, error) = Effective(t => t.Happened, share);
        var (low, high) = Interval(share, number);
        return Estimate.Bounded(share, error, low, high, all.Length);
    }

    /// <summary>Time by which a fraction has met it; without a value when fewer have.</summary>
    public Estimate Quantile(double fraction)
    {
        int place = (int)Math.Ceiling(fraction * all.Length) - 1;
        if (!all[place].Happened)
        {
            return Estimate.Withhold("fewer have met it by the horizon", all.Length);
        }

        double time = all[place].Time;
        var (low, high) = Interval(fraction, Effective(t => t.Happened && t.Time <= time, fraction).Number);
        int first = Math.Max(0, (int)Math.Ceiling(low * all.Length) - 1), last = Math.Min(all.Length - 1, (int)Math.Ceiling(high * all.Length) - 1);
        return Estimate.Bounded(time, null, all[first].Time, all[last].Happened ? all[last].Time : null, all.Length);
    }

    private (long Number, double Error) Effective(Func<(int World, double Time, bool Happened), bool> met, double share)
    {
        double squares = all.GroupBy(t => t.World).Sum(g => Math.Pow((double)g.Count() / all.Length * (g.Average(t => met(t) ? 1.0 : 0.0) - share), 2.0));
        double variance = squares * worlds / Math.Max(1.0, worlds - 1.0);
        double number = variance > 0.0 ? share * (1.0 - share) / variance : worlds;
        return ((long)Math.Round(Math.Clamp(number, worlds, all.Length)), Math.Sqrt(variance));
    }

    private static (double Low, double High) Interval(double share, long number)
    {
        var exact = BinomialInterval.ClopperPearson((long)Math.Round(share * number), number);
        return (Math.Min(share, exact.Lower ?? 0.0), Math.Max(share, exact.Upper ?? 1.0));
    }
}
