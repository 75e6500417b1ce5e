using System.Collections.Immutable;
using CureSim.Core.Logs;
using CureSim.Core.Statistics;

namespace CureSim.Studies.Fit;

/// <summary>What is asked of a fit.</summary>
/// <param name="Quantity">What is fitted; null: chosen from the log.</param>
/// <param name="StartHours">Hours of the first emitter where the log begins; null when not said.</param>
/// <param name="Forms">Ageing forms; empty: all.</param>
public sealed record FitSettings(FittedQuantity? Quantity = null, double? StartHours = null, ImmutableArray<AgeingForm> Forms = default);

/// <summary>A radiometer log fitted.</summary>
/// <param name="Log">The log.</param>
/// <param name="Quantity">What was fitted.</param>
/// <param name="QuantityWhy">Why that.</param>
/// <param name="Runs">Emitters with their observations, levels parted at steps.</param>
/// <param name="Forms">Ageing forms compared.</param>
/// <param name="Repeatability">Standard deviation of a reading repeated at once, ratio.</param>
/// <param name="Session">What readings on different days add to it about the best curve, ratio; withheld without repeats.</param>
/// <param name="Steps">Unexplained steps.</param>
/// <param name="Hours">Hours that the log watched, over all emitters.</param>
/// <param name="CleaningLoss">Loss that cleaning gave back, ratio a check: mean of ln(after/before); withheld without pairs.</param>
/// <param name="CleaningSpread">Standard deviation of it from check to check, the readings' own error still in it.</param>
/// <param name="Life">Weibull law of sudden failures, h.</param>
/// <param name="Failures">Sudden failures counted.</param>
/// <param name="Screening">One sentence for each thing found.</param>
/// <param name="Notes">What a reader should know of how the log was cut.</param>
public sealed record LogFit(
    ReadingLog Log, FittedQuantity Quantity, string QuantityWhy, ImmutableArray<EmitterRun> Runs, ImmutableArray<FormFit> Forms, Estimate Repeatability, Estimate Session,
    ImmutableArray<LogStep> Steps, double Hours, Estimate CleaningLoss, double? CleaningSpread, TruncatedWeibull Life, int Failures, ImmutableArray<string> Screening, ImmutableArray<string> Notes)
{
    /// <summary>
    /// Forms whose AICc is within this of the best cannot be told apart: four means that the best is about seven times as likely by weight
    /// (K. P. Burnham and D. R. Anderson (2002), section 2.6: 4 to 7 is "considerably less" support; recalled from memory).
    /// </summary>
    public const double Indistinguishable = 4.0;

    /// <summary>Forms that cannot be told apart, best first; empty when none was fitted.</summary>
    public ImmutableArray<FormFit> Chosen => [.. Forms.Where(f => f.Withheld is null && !(f.Difference > Indistinguishable)).OrderBy(f => f.Difference ?? 0.0)];

    /// <summary>Fits a log.</summary>
    public static LogFit Of(ReadingLog log, FitSettings settings)
    {
        ArgumentNullException.ThrowIfNull(log);
        ArgumentNullException.ThrowIfNull(settings);
        var (runs, notes) = EmitterRuns.Cut(log, settings.StartHours);
        var (quantity, why) = settings.Quantity is { } asked ? (asked, "as asked") : Fit.Observations.Choose(runs);
        ImmutableArray<AgeingForm> wanted = settings.Forms.IsDefaultOrEmpty ? AgeingForm.All : settings.Forms;
        runs = [.. runs.Select(r => r with { Observations = Fit.Observations.Of(r, quantity, asLeft: true) })];
        (runs, var steps, var odd) = LogSteps.Find(runs, wanted);
        if (!odd.IsEmpty)
        {
            notes = notes.Add($"{odd.Length} odd reading{(odd.Length == 1 ? "" : "s")} left out of the fits, at line{(odd.Length == 1 ? "" : "s")} {string.Join(", ", odd.Order().Take(10).Select(l => l.ToString(System.Globalization.CultureInfo.InvariantCulture)))}{(odd.Length > 10 ? " …" : "")}");
        }

        var repeatability = RepeatabilityOf(runs);
        EmitterRun[] observed = [.. runs.Where(r => r.Observations.Length > 0)];
        EmitterRun[][] parted = [.. wanted.Select(f => observed.Select(r => EndLevels.Parted(r, f)).ToArray())];
        var forms = FormFit.Compared([.. wanted.Select((f, i) => FormFit.Of(f, parted[i]))]);
        if (WeightsOf(observed, forms, repeatability, log) is { } weights)
        {
            forms = FormFit.Compared([.. wanted.Select((f, i) => FormFit.Of(f, parted[i], weights))]);
        }

        var best = forms.Where(f => f.Withheld is null).OrderBy(f => f.Difference ?? 0.0).FirstOrDefault();
        foreach (var fit in best?.Emitters.Where(e => EndLevels.LinesOf(e.Run).Any()) ?? [])
        {
            notes = notes.Add($"{fit.Run.Name}: the readings before and after line {string.Join(", ", EndLevels.LinesOf(fit.Run))} stand on levels of their own (a disturbance near an end of its life, or odd readings), so that the step is not taken for ageing");
        }

        double residual = best?.ResidualDeviation ?? double.NaN;
        double repeats = observed.SelectMany(r => r.Observations).Select(o => 1.0 / o.Repeats).DefaultIfEmpty(1.0).Average();
        var session = repeatability.Value is not { } rep ? Estimate.Withhold(repeatability.Withheld!)
            : best is null ? Estimate.Withhold("no curve was fitted")
            : quantity == FittedQuantity.Drive ? Estimate.Withhold("the drive was fitted, which no meter reads")
            : Estimate.Bounded(Math.Sqrt(Math.Max(0.0, (residual * residual) - (rep * rep * repeats))), null, null, null, best.Emitters.Sum(e => e.Fit.DegreesOfFreedom));
        var pairs = CheckPair.Of(runs).Where(p => p.Cleaned).Select(p => p.LogGain).ToArray();
        var gains = pairs.Length > 2 ? SampleMoments.Of(pairs) : null;
        TruncatedWeibull.Watched[] lives = [.. runs.Where(r => r.LastHours > r.FirstHours).Select(r => new TruncatedWeibull.Watched(r.FirstHours, r.LastHours, r.End == EmitterEnd.Failed))];
        ImmutableArray<LogStep> all = [.. steps.Concat(LogSteps.PutRight(runs)).OrderBy(s => s.Line)];
        return new(
            log, quantity, why, runs, forms, repeatability, session, all, runs.Where(r => r.LastHours > r.FirstHours).Sum(r => r.LastHours - r.FirstHours),
            gains is null ? Estimate.Withhold("no check has readings before and after a cleaning", pairs.Length, enough: 3)
                : MeanOf(gains),
            gains?.StandardDeviation, TruncatedWeibull.Fit(lives), runs.Count(r => r.End == EmitterEnd.Failed), LogScreening.Of(log, runs, residual, repeatability), notes);
    }

    private static Estimate MeanOf(SampleMoments moments)
    {
        var interval = MeanInterval.Mean(moments);
        return Estimate.Bounded(moments.Mean, moments.StandardDeviation!.Value / Math.Sqrt(moments.Count), interval.Lower, interval.Upper, moments.Count);
    }

    /// <summary>Pooled standard deviation of ln readings that were repeated at one moment on one site with one radiometer.</summary>
    private static Estimate RepeatabilityOf(IEnumerable<EmitterRun> runs)
    {
        double[][] groups = [.. runs.SelectMany(run => run.Rows.Where(r => !double.IsNaN(r.Reading) && !r.Cold)
            .GroupBy(r => (r.Hours, r.EmitterHours, r.Site, r.Meter, r.Moment, r.Drive)).Select(g => g.Select(r => Math.Log(r.Reading)).ToArray()).Where(g => g.Length > 1))];
        int degrees = groups.Sum(g => g.Length - 1);
        return degrees < 5
            ? Estimate.Withhold(FormattableString.Invariant($"{degrees} readings were repeated at once; at least 5 are needed"), degrees, enough: 5)
            : PooledDeviation.Of([.. groups.Select(g => SampleMoments.Of(g).StandardDeviation!.Value)], [.. groups.Select(g => g.Length - 1)]);
    }

    // Variance of an observation: what differs from day to day, repeatability over the repeats, rounding q²/12 of the reading. Null when all are alike.
    private static double[][]? WeightsOf(IReadOnlyList<EmitterRun> runs, ImmutableArray<FormFit> forms, Estimate repeatability, ReadingLog log)
    {
        var best = forms.Where(f => f.Withheld is null).OrderBy(f => f.Difference ?? 0.0).FirstOrDefault();
        if (best is null)
        {
            return null;
        }

        double step = SampleScreening.Of([.. log.Readings.Select(r => r.Reading)]).Resolution ?? 0.0, rep = repeatability.Value ?? 0.0, total = best.ResidualDeviation * best.ResidualDeviation;
        Observation[] all = [.. runs.SelectMany(r => r.Observations)];
        double Own(Observation o) => (rep * rep / o.Repeats) + (step * step / (12.0 * o.Reading * o.Reading * o.Repeats));
        double between = Math.Max(0.0, total - all.Average(Own));
        double low = all.Min(o => between + Own(o)), high = all.Max(o => between + Own(o));
        return !(low > 0.0) || high / low < 1.05 ? null : [.. runs.Select(r => r.Observations.Select(o => total / (between + Own(o))).ToArray())];
    }
}
