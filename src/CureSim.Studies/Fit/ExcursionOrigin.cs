using System.Collections.Immutable;
using CureSim.Core.Cell;
using CureSim.Core.Statistics;
using CureSim.Engine.Block;
using CureSim.Studies.Interval;
using CureSim.Studies.Runs;

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

/// <summary>Chance that going back so far holds all that was made out of the qualified state.</summary>
/// <param name="HoursAgo">How far, h.</param>
/// <param name="Chance">Chance with its Monte-Carlo interval; 0 … 1.</param>
public sealed record HeldShare(double HoursAgo, Estimate Chance);

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
/// Every as-found reading of the simulated lifetimes that is out on the same side weighs by how alike these are: its deviation from what its site is held to (the target; for a leg of a shared emitter its
/// last as-left reading), those of the check before and of the other sites at the same check (Gaussian kernels in ln reading, the latter two twice as wide), and what had been read up to that check (<see cref="CellSummaryNow"/>, by the errors of its numbers as in <see cref="HistoryWeights"/>). Kernel and errors are widened
/// together until <see cref="EnoughEffective"/> lifetimes are effective: the kernel from a fiftieth to at most a fifth of the action limit, the errors without end.
/// A reading inside the limit is none that a check would have found, however near: counting those would give too much to causes that move slowly. So would histories that are alike at another age.
/// The cause is what moved a reading most in the deviation's direction since the site's last as-left reading. Kernel widths: common practice, no source. Intervals: <see cref="WeightedShares"/>.
/// </remarks>
public sealed record ExcursionOrigin(
    string Site, double Deviation, Estimate SinceLastCheck, Estimate Earlier, Estimate StillQualified, Estimate Contained, Estimate SureHoursAgo, StartTime? BeganHoursAgo, double BracketHours,
    ImmutableArray<OriginCause> Causes, double Effective, double Widening, string? Withheld)
{
    /// <summary>By time before the finding: the chance that whatever was made out of the qualified state was made since then. It begins with the chance that the state is still qualified.</summary>
    public ImmutableArray<HeldShare> Held { get; init; } = [];

    /// <summary>Probability of <see cref="SureHoursAgo"/>.</summary>
    public const double Sure = 0.95;

    private const double LeastEffective = MeasureEstimator.LeastSupport; // as for other figures of a sample: fewer do not bear a share

    private const int CurvePoints = 101;
    private const double EnoughEffective = ReadingToday.EnoughEffective, WiderBy = ReadingToday.WiderBy, MostWidening = 100.0; // beyond it a history is nothing like any other's
    private const double Widest = ReadingToday.Widest, Narrowest = ReadingToday.Narrowest, Far = 5.0 * Widest; // kernels as parts of the action limit; beyond five widths a weight is below 4e-6

    // Off, OffBefore, OffOthers: deviation of today's reading, of the check before and of the other sites today (mean), less the log's. History: squared distance of what was read up to then, in errors.
    private sealed record Episode(int Lifetime, double Off, double OffBefore, double OffOthers, double History, int Cause, double BeganAgo, bool Before, bool Qualified)
    {
        public double Weight(double width, double widening) =>
            Math.Exp(-0.5 * ((Off * Off / (width * width)) + (((OffBefore * OffBefore) + (OffOthers * OffOthers)) / (4.0 * width * width)) + (double.IsFinite(widening) ? History / (widening * widening) : 0.0)));
    }

    /// <summary>True where a site is a leg of a shared emitter, which is held to its own as-left value and not to the target.</summary>
    internal static bool HasLegs(Scenario scenario) => scenario.Source.Arrangement == EmitterArrangement.Shared && scenario.Production.SiteCount > 1;

    /// <summary>ln of a reading over what its site is held to; NaN for a leg of which the log has no as-left reading before.</summary>
    internal static double DeviationOf(Scenario scenario, LoggedCheck check) => check.LogReading - (HasLegs(scenario) ? check.LogLeft : Math.Log(scenario.Checks!.TargetWattsPerSquareMetre));

    /// <summary>The origin.</summary>
    /// <param name="scenario">The scenario.</param>
    /// <param name="found">The reading.</param>
    /// <param name="checks">As-found readings of the log, up to it.</param>
    /// <param name="cells">Simulated lifetimes.</param>
    /// <param name="history">What was read before it; null when nothing was.</param>
    /// <param name="withDrive">Whether the log has drives.</param>
    internal static ExcursionOrigin Of(Scenario scenario, LoggedCheck found, ImmutableArray<LoggedCheck> checks, IReadOnlyList<SimulatedCell> cells, CellSummaryNow? history, bool withDrive)
    {
        double? target = HasLegs(scenario) ? null : Math.Log(scenario.Checks!.TargetWattsPerSquareMetre);
        double action = scenario.Checks!.ActionLimit, deviation = DeviationOf(scenario, found);
        var before = checks.LastOrDefault(c => c.Site == found.Site && c.Seconds < found.Seconds);
        double bracket = found.Seconds - (before?.Seconds ?? 0.0), good = before is null || double.IsNaN(DeviationOf(scenario, before)) ? 0.0 : DeviationOf(scenario, before);
        double[] beside = [.. checks.Where(c => c.Seconds == found.Seconds && c.Site != found.Site).Select(c => DeviationOf(scenario, c)).Where(d => !double.IsNaN(d))];
        double? others = beside.Length > 0 ? beside.Average() : null;
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
                episodes.AddRange(In(cells[i].Trace, i, found.Site, new(deviation, good, others, action, target), Distance));
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
                .. ReadingCauses.Names.Select((name, c) => new OriginCause(name, shares.Share(i => episodes[i].Cause == c), Start(i => Began(i) && episodes[i].Cause == c, LeastEffective)))
                    .Where(c => c.Chance.Value > 0.0).OrderByDescending(c => c.Chance.Value),
            ],
            effective, widening, null)
        {
            Held = Curve(ago, bracket / 3600.0, shares),
        };
    }

    // Up to where all but one in a hundred is held, and the bracket at least: the few that began long before would squeeze what matters into the first tenth of an axis.
    private static ImmutableArray<HeldShare> Curve(double[] ago, double bracket, WeightedShares shares)
    {
        double most = Math.Max(1.25 * bracket, shares.Quantiles(ago, _ => true, [0.99], "")[0].Value ?? 0.0);
        return [.. Enumerable.Range(0, CurvePoints).Select(k => most * k / (CurvePoints - 1.0)).Select(t => new HeldShare(t, shares.Share(i => ago[i] <= t)))];
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

    // What the log reads, as deviations (ln) from what its sites are held to; Target null: legs, held to their own as-left readings. Others null: no other site was read.
    private readonly record struct Sought(double Deviation, double Before, double? Others, double Action, double? Target);

    private static IEnumerable<Episode> In(LifetimeTrace trace, int lifetime, int site, Sought sought, Func<LifetimeTrace, double, double> distance)
    {
        var left = new Dictionary<int, TraceReading>();
        double was = double.NaN, wasAt = 0.0;
        double Of(TraceReading r) => Math.Log(r.Indication) - (sought.Target ?? Math.Log(left[r.Site].Indication));

        // A check reads all sites as found before it leaves any.
        foreach (var check in trace.Readings.GroupBy(r => r.Seconds))
        {
            TraceReading[] read = [.. check.Where(r => r.AsFound && left.ContainsKey(r.Site))];
            if (read.FirstOrDefault(r => r.Site == site) is { } r)
            {
                double at = Of(r), off = at - sought.Deviation, before = double.IsNaN(was) ? 0.0 : was - sought.Before;
                double others = sought.Others is { } o && read.Length > 1 ? read.Where(x => x.Site != site).Average(Of) - o : 0.0;
                bool isOut = Math.Abs(Math.Exp(at) - 1.0) > sought.Action && at < 0.0 == sought.Deviation < 0.0;
                if (isOut && Math.Abs(off) < Far * sought.Action && Math.Abs(before) < 2.0 * Far * sought.Action && Math.Abs(others) < 2.0 * Far * sought.Action)
                {
                    double? start = BeganAt(trace, r.Seconds);
                    yield return new(lifetime, off, before, others, distance(trace, r.Seconds), ReadingCauses.Of(r, left[site], sought.Deviation < 0.0), start is { } s ? r.Seconds - s : double.NaN, start < wasAt, start is null);
                }

                (was, wasAt) = (at, r.Seconds);
            }

            foreach (var after in check.Where(x => !x.AsFound))
            {
                left[after.Site] = after;
            }
        }
    }
}
