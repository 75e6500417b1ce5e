using System.Collections.Immutable;
using CureSim.Core.Cell;
using CureSim.Core.Statistics;
using CureSim.Engine.Block;
using CureSim.Studies.Interval;

namespace CureSim.Studies.Fit;

/// <summary>How long ago an excursion began, h, where it did: quantiles with their Monte-Carlo intervals.</summary>
/// <param name="P05">5 %.</param>
/// <param name="P10">10 %: with <paramref name="P90"/> the ends of the 80 % interval.</param>
/// <param name="P50">50 %.</param>
/// <param name="P90">90 %.</param>
/// <param name="P95">95 %.</param>
/// <param name="Effective">Lifetimes that they rest on: (Σw)²/Σw².</param>
public sealed record StartTime(Estimate P05, Estimate P10, Estimate P50, Estimate P90, Estimate P95, double Effective);

/// <summary>A cause of an excursion, how likely it is, and when it began where it was this.</summary>
/// <param name="Name">What moved the reading most in its direction since the site was last set.</param>
/// <param name="Chance">Its share among the readings like this one; 0 … 1.</param>
/// <param name="BeganHoursAgo">How long ago, h; null where too few lifetimes began so.</param>
public sealed record OriginCause(string Name, Estimate Chance, StartTime? BeganHoursAgo);

/// <summary>When an excursion that a check found most likely began, and why.</summary>
/// <param name="Site">Site that read it, as the log names it.</param>
/// <param name="Deviation">Reading over what it is held to, less 1.</param>
/// <param name="SinceLastCheck">Chance that it began after the check before.</param>
/// <param name="Earlier">Chance that it had begun before that check.</param>
/// <param name="StillQualified">Chance that the state is qualified in spite of the reading.</param>
/// <param name="Contained">Chance that whatever was made out of the qualified state was made since the check before: the bracket holds it all.</param>
/// <param name="SureHoursAgo">How far to go back to hold it all with probability <see cref="Sure"/>, h; 0 where the state is still qualified with that probability.</param>
/// <param name="BeganHoursAgo">How long ago it began, where it did; null when nothing simulated did.</param>
/// <param name="BracketHours">Time since the check before, h.</param>
/// <param name="Causes">Causes, likeliest first.</param>
/// <param name="Effective">Lifetimes that this rests on: (Σw)²/Σw².</param>
/// <param name="Widening">Factor on the error of the history's numbers that was needed to keep enough lifetimes; infinite: history is not looked at.</param>
/// <param name="Withheld">Why nothing is said; null when something is.</param>
/// <remarks>
/// Every as-found reading of the simulated lifetimes that is out on the same side weighs by how alike three things are: its deviation and that of the check before it (Gaussian kernels in ln reading, the
/// second twice as wide), and what had been read up to that check (<see cref="CellSummaryNow"/>, by the errors of its numbers as in <see cref="HistoryWeights"/>). Kernel and errors are widened
/// together until <see cref="EnoughEffective"/> lifetimes are effective: the kernel from a fiftieth to at most a fifth of the action limit, the errors without end.
/// A reading inside the limit is none that a check would have found, however near: counting those would give too much to causes that move slowly. So would histories that are alike at another age.
/// The cause is what moved a reading most in the deviation's direction since the site's last as-left reading. Kernel widths: common practice, no source. Intervals: <see cref="WeightedShares"/>.
/// </remarks>
public sealed record ExcursionOrigin(
    string Site, double Deviation, Estimate SinceLastCheck, Estimate Earlier, Estimate StillQualified, Estimate Contained, Estimate SureHoursAgo, StartTime? BeganHoursAgo, double BracketHours,
    ImmutableArray<OriginCause> Causes, double Effective, double Widening, string? Withheld)
{
    /// <summary>Probability of <see cref="SureHoursAgo"/>.</summary>
    public const double Sure = 0.95;

    private const double LeastEffective = 30.0; // as for other figures of a sample: fewer do not bear a share

    /// <summary>Causes, in the order of <see cref="CauseOf"/>.</summary>
    internal static readonly ImmutableArray<string> Names = ["emitter or its drive", "guide loss or leg", "fouling", "a disturbance of the transmission", "fixture (distance, aim)", "the radiometer itself"];

    private const double EnoughEffective = 100.0, WiderBy = 1.25, MostWidening = 100.0; // beyond it a history is nothing like any other's
    private const double Widest = 0.2, Narrowest = 0.02, Far = 5.0 * Widest; // kernels as parts of the action limit; beyond five widths a weight is below 4e-6

    // Off and OffBefore: ln of today's reading and of the check before, less the log's. History: squared distance of what was read up to then, in errors.
    private sealed record Episode(int Lifetime, double Off, double OffBefore, double History, int Cause, double BeganAgo, bool Before, bool Qualified)
    {
        public double Weight(double width, double widening) =>
            Math.Exp(-0.5 * ((Off * Off / (width * width)) + (OffBefore * OffBefore / (4.0 * width * width)) + (double.IsFinite(widening) ? History / (widening * widening) : 0.0)));
    }

    /// <summary>False for legs of a shared emitter, which are held to their own as-left values and not to the target.</summary>
    internal static bool HasTarget(Scenario scenario) => scenario.Source.Arrangement != EmitterArrangement.Shared || scenario.Production.SiteCount == 1;

    /// <summary>The origin.</summary>
    /// <param name="scenario">The scenario.</param>
    /// <param name="found">The reading.</param>
    /// <param name="checks">As-found readings of the log, up to it.</param>
    /// <param name="cells">Simulated lifetimes.</param>
    /// <param name="history">What was read before it; null when nothing was.</param>
    /// <param name="withDrive">Whether the log has drives.</param>
    internal static ExcursionOrigin Of(Scenario scenario, LoggedCheck found, ImmutableArray<LoggedCheck> checks, IReadOnlyList<SimulatedCell> cells, CellSummaryNow? history, bool withDrive)
    {
        double target = Math.Log(scenario.Checks!.TargetWattsPerSquareMetre), action = scenario.Checks.ActionLimit, deviation = found.LogReading - target;
        var before = checks.LastOrDefault(c => c.Site == found.Site && c.Seconds < found.Seconds);
        double bracket = found.Seconds - (before?.Seconds ?? 0.0), good = before is null ? 0.0 : before.LogReading - target;
        double Distance(LifetimeTrace trace, double seconds)
        {
            var alike = history is null ? null : CellSummaryNow.Of(CellSummaryNow.Of(trace, seconds - 1.0, withDrive), scenario.Production.SiteCount, 1.0);
            return history is null ? 0.0 : alike is null ? double.PositiveInfinity
                : Enumerable.Range(0, CellSummaryNow.Count).Where(j => history.ErrorVariances[j] > 0.0).Sum(j => Math.Pow(alike.Values[j] - history.Values[j], 2.0) / history.ErrorVariances[j]);
        }

        var episodes = new List<Episode>();
        for (int i = 0; i < cells.Count; i++)
        {
            // A cell that never qualified is not one that was put into service.
            if (!double.IsNaN(cells[i].RequalifySeconds))
            {
                episodes.AddRange(In(cells[i].Trace, i, found.Site, deviation, good, action, target, Distance));
            }
        }

        int[] unit = [.. episodes.Select(e => MonteCarloUnit.Of(scenario, e.Lifetime))], lifetimes = [.. episodes.Select(e => e.Lifetime)];
        double[] weight = [];
        double effective = 0.0, width = Narrowest, widening = history is null ? double.PositiveInfinity : 1.0;
        while (true)
        {
            weight = [.. episodes.Select(e => e.Weight(Math.Min(width, Widest) * action, widening))];
            effective = new WeightedShares(lifetimes, weight).Effective;
            if (effective >= EnoughEffective || (width >= Widest && double.IsInfinity(widening)))
            {
                break;
            }

            (width, widening) = (width * WiderBy, widening * WiderBy is var next && next > MostWidening ? double.PositiveInfinity : next);
        }

        if (effective >= LeastEffective)
        {
            return Told(found, Math.Exp(deviation) - 1.0, bracket, [.. episodes], unit, weight, effective, widening);
        }

        var few = Estimate.Withhold("fewer than 30 simulated lifetimes ever read like this");
        return new(
            found.SiteName, Math.Exp(deviation) - 1.0, few, few, few, few, few, null, bracket / 3600.0, [], 0.0, double.PositiveInfinity,
            "fewer than 30 simulated lifetimes ever read like this: the scenario does not know what happened here");
    }

    private static ExcursionOrigin Told(LoggedCheck found, double deviation, double bracket, Episode[] episodes, int[] unit, double[] weight, double effective, double widening)
    {
        var shares = new WeightedShares(unit, weight);
        int[] lifetimes = [.. episodes.Select(e => e.Lifetime)];
        double[] ago = [.. episodes.Select(e => e.Qualified ? 0.0 : e.BeganAgo / 3600.0)];
        bool Began(int i) => !episodes[i].Qualified;
        StartTime? Start(Func<int, bool> among, double least)
        {
            double rests = new WeightedShares(lifetimes, [.. weight.Select((w, i) => among(i) ? w : 0.0)]).Effective;
            if (!(rests >= least))
            {
                return null;
            }

            var q = shares.Quantiles(ago, among, [0.05, 0.1, 0.5, 0.9, 0.95], "it never began");
            return new(q[0], q[1], q[2], q[3], q[4], rests);
        }

        return new(
            found.SiteName, deviation, shares.Share(i => Began(i) && !episodes[i].Before), shares.Share(i => Began(i) && episodes[i].Before), shares.Share(i => !Began(i)),
            shares.Share(i => !Began(i) || !episodes[i].Before), shares.Quantiles(ago, _ => true, [Sure], "it never began")[0], Start(Began, double.Epsilon), bracket / 3600.0,
            [
                .. Names.Select((name, c) => new OriginCause(name, shares.Share(i => episodes[i].Cause == c), Start(i => Began(i) && episodes[i].Cause == c, LeastEffective)))
                    .Where(c => c.Chance.Value > 0.0).OrderByDescending(c => c.Chance.Value),
            ],
            effective, widening, null);
    }

    /// <summary>What moved a reading most in a direction since the site's last as-left reading.</summary>
    internal static int CauseOf(TraceReading now, TraceReading left, bool down)
    {
        double[] moved = [now.Source - left.Source, now.Guide - left.Guide, now.Fouling - left.Fouling, now.Disturbance - left.Disturbance, now.Fixture - left.Fixture, now.Meter - left.Meter];
        return Enumerable.Range(0, moved.Length).MaxBy(c => down ? -moved[c] : moved[c]);
    }

    /// <summary>When the excursion that a check met at a moment had begun, s; null when the state was qualified as found. What the check itself put right was still out.</summary>
    internal static double? BeganAt(LifetimeTrace trace, double seconds)
    {
        TraceEvent? last = null, startedNow = null;
        bool endsNow = false;
        foreach (var e in trace.Events.Where(e => e.What is "excursion starts" or "excursion ends"))
        {
            last = e.Seconds < seconds ? e : last;
            startedNow = e.What == "excursion starts" && e.Seconds == seconds && !endsNow ? e : startedNow;
            endsNow |= e.What == "excursion ends" && e.Seconds == seconds;
        }

        return last?.What == "excursion starts" ? last.Seconds : endsNow ? startedNow?.Seconds : null;
    }

    private static IEnumerable<Episode> In(LifetimeTrace trace, int lifetime, int site, double deviation, double good, double action, double target, Func<LifetimeTrace, double, double> distance)
    {
        TraceReading? reference = null, previous = null;
        foreach (var r in trace.Readings.Where(r => r.Site == site))
        {
            if (!r.AsFound)
            {
                reference = r;
                continue;
            }

            if (reference is not null)
            {
                double log = Math.Log(r.Indication) - target, off = log - deviation, was = previous is null ? 0.0 : Math.Log(previous.Indication) - target - good;
                bool isOut = Math.Abs(Math.Exp(log) - 1.0) > action && log < 0.0 == deviation < 0.0;
                if (isOut && Math.Abs(off) < Far * action && Math.Abs(was) < 2.0 * Far * action)
                {
                    double? start = BeganAt(trace, r.Seconds);
                    yield return new(lifetime, off, was, distance(trace, r.Seconds), CauseOf(r, reference, deviation < 0.0), start is { } s ? r.Seconds - s : double.NaN, start < (previous?.Seconds ?? 0.0), start is null);
                }
            }

            previous = r;
        }
    }
}
