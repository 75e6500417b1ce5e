using System.Collections.Immutable;
using CureSim.Core.Cell;
using CureSim.Core.Statistics;
using CureSim.Engine.Block;
using CureSim.Studies.Interval;

namespace CureSim.Studies.Fit;

/// <summary>When an excursion that a check found most likely began, and why.</summary>
/// <param name="Site">Site that read it, as the log names it.</param>
/// <param name="Deviation">Reading over target, less 1.</param>
/// <param name="SinceLastCheck">Chance that it began after the check before: what was made since then is the bracket.</param>
/// <param name="Earlier">Chance that it had begun before that check.</param>
/// <param name="StillQualified">Chance that the state is qualified in spite of the reading.</param>
/// <param name="BeganHoursAgo">Quantiles 5, 50 and 95 % of how long ago it began, h, where it did.</param>
/// <param name="BracketHours">Time since the check before, h.</param>
/// <param name="Causes">Causes, likeliest first.</param>
/// <param name="Effective">Lifetimes that this rests on: (Σw)²/Σw².</param>
/// <param name="ByHistory">True: lifetimes are weighted by the cell's history too; false: too few would be left, so all cells that read alike today count the same.</param>
/// <param name="Withheld">Why nothing is said; null when something is.</param>
/// <remarks>
/// Every as-found reading of the simulated lifetimes with the same deviation (a Gaussian kernel, a fifth of the action limit wide) and a check before it that was as good as
/// the log's (same kernel, twice as wide) weighs with its lifetime's weight by history. Its cause is what moved it most in the deviation's direction since the site's last as-left
/// or in-tolerance reading. Kernel widths: common practice, no source.
/// </remarks>
public sealed record ExcursionOrigin(
    string Site, double Deviation, Estimate SinceLastCheck, Estimate Earlier, Estimate StillQualified, (double P05, double P50, double P95)? BeganHoursAgo, double BracketHours,
    ImmutableArray<ReadingCause> Causes, double Effective, bool ByHistory, string? Withheld)
{
    private const double LeastEffective = 30.0; // as for other figures of a sample: fewer do not bear a share
    private static readonly string[] Names = ["emitter or its drive", "guide loss or leg", "fouling", "a disturbance of the transmission", "fixture (distance, aim)", "the radiometer itself"];

    private sealed record Episode(int Lifetime, double Weight, int Cause, double BeganAgo, bool Before, bool Qualified);

    /// <summary>False for legs of a shared emitter, which are held to their own as-left values and not to the target.</summary>
    internal static bool HasTarget(Scenario scenario) => scenario.Source.Arrangement != EmitterArrangement.Shared || scenario.Production.SiteCount == 1;

    internal static ExcursionOrigin Of(
        Scenario scenario, LoggedCheck found, ImmutableArray<LoggedCheck> checks, IReadOnlyList<SimulatedCell> cells, HistoryWeights weights)
    {
        double target = Math.Log(scenario.Checks!.TargetWattsPerSquareMetre), width = scenario.Checks.ActionLimit / 5.0, deviation = found.LogReading - target;
        var before = checks.LastOrDefault(c => c.Site == found.Site && c.Seconds < found.Seconds);
        double bracket = found.Seconds - (before?.Seconds ?? 0.0), good = before is null ? 0.0 : before.LogReading - target;
        var episodes = new List<Episode>();
        for (int i = 0; i < cells.Count; i++)
        {
            episodes.AddRange(In(cells[i].Trace, i, found.Site, deviation, good, width, target));
        }

        foreach (bool history in new[] { true, false })
        {
            var sums = new double[cells.Count];
            foreach (var e in episodes)
            {
                sums[e.Lifetime] += e.Weight * (history ? weights.Weights[e.Lifetime] : 1.0);
            }

            double total = sums.Sum(), effective = total > 0.0 ? total * total / sums.Sum(s => s * s) : 0.0;
            if (effective >= LeastEffective)
            {
                return Told(found, Math.Exp(deviation) - 1.0, bracket, episodes, sums, total, effective, history, e => e.Weight * (history ? weights.Weights[e.Lifetime] : 1.0));
            }
        }

        return new(
            found.SiteName, Math.Exp(deviation) - 1.0, Estimate.Withhold("too few"), Estimate.Withhold("too few"), Estimate.Withhold("too few"), null, bracket / 3600.0, [], 0.0, false,
            "fewer than 30 simulated lifetimes ever read like this: the scenario does not know what happened here");
    }

    private static ExcursionOrigin Told(
        LoggedCheck found, double deviation, double bracket, List<Episode> episodes, double[] sums, double total, double effective, bool history, Func<Episode, double> weight)
    {
        Estimate Share(Func<Episode, bool> of)
        {
            var top = new double[sums.Length];
            foreach (var e in episodes.Where(of))
            {
                top[e.Lifetime] += weight(e);
            }

            // Ratio of two sums over lifetimes, by linearisation (W. G. Cochran, Sampling Techniques, section 6.5).
            double ratio = top.Sum() / total, error = Math.Sqrt(top.Zip(sums, (t, s) => (t - (ratio * s)) * (t - (ratio * s))).Sum()) / total;
            return Estimate.Bounded(ratio, error, Math.Max(0.0, ratio - (1.96 * error)), Math.Min(1.0, ratio + (1.96 * error)));
        }

        var began = episodes.Where(e => !e.Qualified && double.IsFinite(e.BeganAgo)).OrderBy(e => e.BeganAgo).ToArray();
        double all = began.Sum(weight);
        double At(double p)
        {
            double sum = 0.0;
            foreach (var e in began)
            {
                sum += weight(e);
                if (sum >= p * all)
                {
                    return e.BeganAgo / 3600.0;
                }
            }

            return began[^1].BeganAgo / 3600.0;
        }

        return new(
            found.SiteName, deviation, Share(e => !e.Qualified && !e.Before), Share(e => !e.Qualified && e.Before), Share(e => e.Qualified), all > 0.0 ? (At(0.05), At(0.5), At(0.95)) : null, bracket / 3600.0,
            [.. Names.Select((name, c) => new ReadingCause(name, Share(e => e.Cause == c))).Where(c => c.Chance.Value > 0.0).OrderByDescending(c => c.Chance.Value)], effective, history, null);
    }

    private static IEnumerable<Episode> In(LifetimeTrace trace, int lifetime, int site, double deviation, double good, double width, double target)
    {
        TraceReading? reference = null, previous = null;
        var changes = trace.Events.Where(e => e.What is "excursion starts" or "excursion ends").ToArray();
        foreach (var r in trace.Readings.Where(r => r.Site == site))
        {
            if (!r.AsFound)
            {
                reference = r;
                continue;
            }

            if (reference is not null)
            {
                double off = (Math.Log(r.Indication) - target - deviation) / width, was = previous is null ? 0.0 : (Math.Log(previous.Indication) - target - good) / (2.0 * width);
                double w = Math.Exp(-0.5 * ((off * off) + (was * was)));
                if (w > 1e-6)
                {
                    double[] moved =
                    [
                        r.Source - reference.Source, r.Guide - reference.Guide, r.Fouling - reference.Fouling, r.Disturbance - reference.Disturbance, r.Fixture - reference.Fixture, r.Meter - reference.Meter,
                    ];
                    int cause = Enumerable.Range(0, moved.Length).MaxBy(c => deviation < 0.0 ? -moved[c] : moved[c]);
                    var change = changes.LastOrDefault(e => e.Seconds < r.Seconds);
                    bool outside = change?.What == "excursion starts" || changes.Any(e => e.What == "excursion ends" && e.Seconds == r.Seconds);
                    double start = change?.What == "excursion starts" ? change.Seconds : changes.LastOrDefault(e => e.What == "excursion starts" && e.Seconds <= r.Seconds)?.Seconds ?? double.NaN;
                    double check = previous?.Seconds ?? 0.0;
                    yield return new(lifetime, w, cause, r.Seconds - start, start < check, !outside);
                }
            }

            previous = r;
        }

    }
}
