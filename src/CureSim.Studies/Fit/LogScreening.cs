using System.Collections.Immutable;
using CureSim.Core.Logs;
using CureSim.Core.Statistics;

namespace CureSim.Studies.Fit;

/// <summary>Signs that a log was rounded, copied, or is not what it seems. Thresholds: common practice, no source.</summary>
internal static class LogScreening
{
    private const double LongGap = 5.0;      // times the median time between readings
    private const double TooSmooth = 0.5;    // of the repeatability
    private const int LeastRepeats = 8;

    /// <summary>One sentence for each thing found.</summary>
    /// <param name="log">The log.</param>
    /// <param name="runs">Its emitters.</param>
    /// <param name="residual">Standard deviation about the best curve, ratio; NaN without a fit.</param>
    /// <param name="repeatability">From repeated readings; withheld without.</param>
    public static ImmutableArray<string> Of(ReadingLog log, IReadOnlyList<EmitterRun> runs, double residual, Estimate repeatability)
    {
        var found = ImmutableArray.CreateBuilder<string>();
        LogRow[] readings = [.. log.Readings];
        double[] values = [.. readings.Select(r => r.Reading)];
        var whole = SampleScreening.Of(values);
        double mean = values.Average();
        if (whole.Resolution is { } step && residual > 0.0 && step / mean / Math.Sqrt(12.0) > 0.5 * residual)
        {
            found.Add(FormattableString.Invariant($"Readings are multiples of {step:G4}, which is {100.0 * step / mean:0.##} % of their mean: rounding makes most of their scatter; read more digits."));
        }

        foreach (var series in readings.GroupBy(r => (r.Site, r.Meter, r.Moment)).Where(g => g.Count() >= LeastRepeats))
        {
            var s = SampleScreening.Of([.. series.Select(r => r.Reading)]);
            string where = string.Join(" ", new[] { series.Key.Site.Length > 0 ? "site " + series.Key.Site : "", series.Key.Meter.Length > 0 ? "meter " + series.Key.Meter : "" }.Where(t => t.Length > 0));
            foreach (string finding in s.Findings.Where(f => f.Contains("in a row", StringComparison.Ordinal) || f.StartsWith("All values", StringComparison.Ordinal)))
            {
                found.Add(where.Length > 0 ? $"{where}: {finding}" : finding);
            }
        }

        // The same several digits at one moment on two sites: written down twice.
        int copied = readings.Where(r => r.Site.Length > 0).GroupBy(r => (r.Hours, r.EmitterHours, r.Moment)).Count(g => g.Select(r => r.Site).Distinct().Count() > 1 && g.Select(r => r.Reading).Distinct().Count() == 1);
        int moments = readings.Where(r => r.Site.Length > 0).GroupBy(r => (r.Hours, r.EmitterHours, r.Moment)).Count(g => g.Select(r => r.Site).Distinct().Count() > 1);
        if (copied > 3 && copied > 0.3 * moments)
        {
            found.Add(FormattableString.Invariant($"Sites read the same in {copied} of {moments} checks: copied entries, or one reading written for all."));
        }

        if (repeatability.Value is { } rep && rep > 0.0 && residual < TooSmooth * rep)
        {
            found.Add(FormattableString.Invariant($"Readings scatter by {100.0 * residual:0.##} % about their curve, less than half of the meter's repeatability of {100.0 * rep:0.##} %: smoothed, selected or copied."));
        }

        foreach (var run in runs)
        {
            double[] hours = [.. run.Rows.Where(r => !double.IsNaN(r.Reading)).Select(r => double.IsNaN(r.Hours) ? r.EmitterHours : r.Hours).Where(h => !double.IsNaN(h)).Distinct().Order()];
            double[] gaps = [.. hours.Zip(hours.Skip(1), (a, b) => b - a)];
            if (gaps.Length < 4)
            {
                continue;
            }

            double median = SampleQuantile.Of(gaps, 0.5);
            int at = Array.IndexOf(gaps, gaps.Max());
            if (gaps[at] > LongGap * median)
            {
                found.Add(FormattableString.Invariant($"{run.Name}: no reading for {gaps[at]:0} h from {hours[at]:0} h on, {gaps[at] / median:0} times the usual interval: what happened meanwhile is not in the fit."));
            }
        }

        int cold = readings.Count(r => r.Cold);
        if (cold > 0)
        {
            found.Add(FormattableString.Invariant($"{cold} readings of a cold source are left out of the fits."));
        }

        return found.ToImmutable();
    }
}
