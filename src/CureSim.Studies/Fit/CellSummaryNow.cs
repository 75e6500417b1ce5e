using CureSim.Core.Cell;
using CureSim.Engine.Block;

namespace CureSim.Studies.Fit;

/// <summary>What a check reads at a site: time in s, ln(reading/drive), ln reading, emitter burn time in s.</summary>
internal readonly record struct CheckReading(double Seconds, int Site, double LogOutput, double LogReading, double BurnSeconds);

/// <summary>Few numbers that say where a cell stands at a moment, from its as-found readings up to then.</summary>
/// <remarks>
/// ln output at full drive as read: mean of the last <see cref="Ends"/> checks over all sites; the same of the weakest site; mean of the first <see cref="Ends"/> checks of the
/// emitter in use; its slope over the second half of the emitter's readings; the emitter's burn time. Chosen because headroom, rate of loss and age decide when a cell runs out.
/// </remarks>
internal sealed record CellSummaryNow(double[] Values, double[] ErrorVariances)
{
    /// <summary>Checks at either end.</summary>
    public const int Ends = 3;

    /// <summary>Numbers of a summary.</summary>
    public const int Count = 5;

    private const double BurnShare = 0.05; // burn times within this share are alike

    /// <summary>The summary; null without a reading.</summary>
    /// <param name="readings">As-found readings in order of time.</param>
    /// <param name="sites">Sites.</param>
    /// <param name="variance">Variance of ln of one reading: repeatability, session, rounding.</param>
    public static CellSummaryNow? Of(IReadOnlyList<CheckReading> readings, int sites, double variance)
    {
        if (readings.Count == 0)
        {
            return null;
        }

        double burn = readings[^1].BurnSeconds;

        // Readings of the emitters in use: burn time only grows within one.
        var own = new List<CheckReading>[sites];
        for (int i = 0; i < sites; i++)
        {
            own[i] = [];
        }

        foreach (var r in readings)
        {
            var list = own[r.Site];
            if (list.Count > 0 && r.BurnSeconds < list[^1].BurnSeconds)
            {
                list.Clear();
            }

            list.Add(r);
        }

        var used = own.Where(l => l.Count > 0).ToArray();
        double Mean(Func<List<CheckReading>, double> of) => used.Average(of);
        double last = Mean(l => l.TakeLast(Ends).Average(r => r.LogOutput)), weakest = used.Min(l => l.TakeLast(Ends).Average(r => r.LogOutput)), first = Mean(l => l.Take(Ends).Average(r => r.LogOutput));
        int n = used.Min(l => l.Count), ends = Math.Min(Ends, n), half = n - (n / 2);
        var (slope, slopeVariance) = n >= 2 * Ends ? (Mean(l => SlopeOf([.. l.TakeLast(half)])), 0.0) : (0.0, 0.0);
        if (n >= 2 * Ends)
        {
            var list = used[0].TakeLast(half).ToArray();
            double middle = list.Average(r => r.Seconds), squares = list.Sum(r => (r.Seconds - middle) * (r.Seconds - middle));
            slopeVariance = variance / squares / used.Length;
        }

        double alike = BurnShare * Math.Max(burn, 3600.0 * 24.0);
        return new([last, weakest, first, slope, burn], [variance / ends / used.Length, variance / ends, variance / ends / used.Length, slopeVariance, alike * alike]);
    }

    /// <summary>As-found readings of a replayed lifetime up to a moment.</summary>
    public static CheckReading[] Of(LifetimeTrace trace, double until, bool withDrive) =>
    [
        .. trace.Readings.Where(r => r.AsFound && r.Seconds <= until).Select(r => new CheckReading(r.Seconds, r.Site, Math.Log(r.Indication) - (withDrive ? Math.Log(r.Drive) : 0.0), Math.Log(r.Indication), r.BurnSeconds)),
    ];

    /// <summary>Variance of ln of one reading about the cell's state.</summary>
    public static double ReadingVariance(Scenario scenario, int repeats)
    {
        double rep = scenario.Radiometer.Repeatability.Varies.StandardDeviation, session = scenario.Radiometer.Session.Varies.StandardDeviation;
        double step = scenario.Radiometer.ResolutionWattsPerSquareMetre / scenario.Checks!.TargetWattsPerSquareMetre;
        return Math.Max((rep * rep / Math.Max(1, repeats)) + (session * session) + (step * step / 12.0), 1e-6);
    }

    private static double SlopeOf(CheckReading[] r)
    {
        double middle = r.Average(x => x.Seconds), mean = r.Average(x => x.LogOutput), squares = r.Sum(x => (x.Seconds - middle) * (x.Seconds - middle));
        return squares > 0.0 ? r.Sum(x => (x.Seconds - middle) * (x.LogOutput - mean)) / squares : 0.0;
    }
}
