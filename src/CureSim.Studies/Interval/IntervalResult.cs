using System.Collections.Immutable;
using CureSim.Core.Cell;
using CureSim.Core.Statistics;
using CureSim.Engine.Runs;

namespace CureSim.Studies.Interval;

/// <summary>How often the output must be checked, with which limits, and what a wrong answer costs. A pure function of the scenario.</summary>
public sealed class IntervalResult
{
    /// <summary>Most lifetimes of a world in the runs beside the candidates: contributors made perfect, and limits crossed with the interval.</summary>
    public const int MostBeside = 512;

    private IntervalResult(Scenario scenario, IntervalStudy study, ImmutableArray<CandidateVerdict> candidates)
    {
        Scenario = scenario;
        Study = study;
        Candidates = candidates;
        CostMinimum = Interval.CostMinimum.Of([.. candidates.Select(c => c.Run)]);
    }

    /// <summary>The scenario.</summary>
    public Scenario Scenario { get; }

    /// <summary>What is required.</summary>
    public IntervalStudy Study { get; }

    /// <summary>Candidates in the order of their intervals.</summary>
    public ImmutableArray<CandidateVerdict> Candidates { get; }

    /// <summary>What binds, found at the nearest miss.</summary>
    public Binding? Binding { get; private init; }

    /// <summary>Intervals crossed with limits.</summary>
    public ImmutableArray<LimitGrid> Grids { get; private init; } = [];

    /// <summary>Faults against controls; null when it was not asked for.</summary>
    public DetectionMatrix? Detection { get; private init; }

    /// <summary>Bond exposures simulated.</summary>
    public double BondExposures { get; private init; }

    /// <summary>Lifetimes simulated.</summary>
    public long Lifetimes { get; private init; }

    /// <summary>The candidate with the fewest checks a year of those that meet all (and not again beyond intervals that miss it); null when none does.</summary>
    public CandidateVerdict? Longest => Candidates.Where(c => c.Meets).MinBy(ChecksAYear);

    /// <summary>The cheapest candidate; null without costs.</summary>
    public CandidateVerdict? Cheapest => Candidates.Where(c => CostOf(c) is not null).MinBy(c => CostOf(c));

    /// <summary>The candidate that comes nearest when none meets all; null when one does.</summary>
    public CandidateVerdict? NearestMiss => Longest is null ? Candidates.MinBy(c => c.Shortfall) : null;

    /// <summary>T* of the cost between the candidates, h.</summary>
    public Estimate CostMinimum { get; }

    /// <summary>Cost a year of a candidate.</summary>
    public static double? CostOf(CandidateVerdict candidate) => candidate.Run.Find(IntervalMeasures.Cost)?.Estimate.Value;

    /// <summary>Runs the study.</summary>
    /// <param name="cell">The scenario, with checks.</param>
    /// <param name="threads">Threads; results do not depend on it.</param>
    /// <param name="progress">Called now and then.</param>
    /// <param name="cancel">Stops it.</param>
    /// <param name="beside">False: candidates only, without contributors, crossed limits and faults.</param>
    public static IntervalResult Run(Scenario cell, int threads, Action<RunProgress>? progress = null, CancellationToken cancel = default, bool beside = true)
    {
        ArgumentNullException.ThrowIfNull(cell);
        var study = cell.IntervalStudy ?? IntervalStudy.Usual;
        var timings = CheckTimings.For(cell);
        int few = Math.Min(MostBeside, cell.Run.LifetimesPerWorld);
        var small = cell with { Run = cell.Run with { LifetimesPerWorld = few } };
        int plain = Math.Min(LimitGrid.MostTimings, timings.Count(t => t.IsPlain));
        long besides = beside ? Contributor.In(cell).Length + 1 + (plain * (LimitGrid.LimitsOf(CrossedLimit.Adjust, cell).Length + LimitGrid.LimitsOf(CrossedLimit.Action, cell).Length)) : 0;
        long planned = cell.Run.Worlds * ((timings.Length * (long)cell.Run.LifetimesPerWorld) + (besides * few)), done = 0;
        var clock = System.Diagnostics.Stopwatch.StartNew();
        CandidateRun? first = null;
        CandidateRun One(CheckTiming timing, Scenario scenario)
        {
            var run = CandidateRun.Run(timing, scenario, threads, p => progress?.Invoke(new(done + p.LifetimesDone, planned, clock.Elapsed)), cancel, first);
            first ??= run;
            done += (long)scenario.Run.Worlds * scenario.Run.LifetimesPerWorld;
            return run;
        }

        var candidates = CandidateVerdict.Marked([.. timings.Select(t => CandidateVerdict.Of(One(t, CheckTimings.With(cell, t)), study))]);
        var found = new IntervalResult(cell, study, candidates) { Lifetimes = done, BondExposures = Exposures(cell, done) };
        if (beside)
        {
            var binding = Binding.Of(small, study, found.Probe, One);
            var chosen = (found.Longest ?? found.NearestMiss)!.Run.Timing;
            var adjust = LimitGrid.Of(CrossedLimit.Adjust, small, timings, chosen, One);
            var action = LimitGrid.Of(CrossedLimit.Action, small, timings, chosen, One);
            found = new(cell, study, candidates)
            {
                Binding = binding,
                Grids = [adjust, action],
                Detection = DetectionMatrix.Of(cell, chosen, threads, cancel),
                Lifetimes = done,
                BondExposures = Exposures(cell, done),
            };
        }

        return found;
    }

    private static double Exposures(Scenario cell, long lifetimes) => (double)lifetimes * cell.Production.StepCount * cell.Production.SiteCount;

    /// <summary>The candidate whose binding input is looked for: the nearest miss, or the one of the calendar with the next fewer checks than the recommended one; the recommended one when all meet.</summary>
    private CheckTiming Probe
    {
        get
        {
            if (NearestMiss is { } miss)
            {
                return miss.Run.Timing;
            }

            var longest = Longest!;
            var longer = Candidates.Where(c => !c.Meets && ChecksAYear(c) < ChecksAYear(longest)).ToArray();
            return (longer.Where(c => c.Run.Timing.IsPlain).MaxBy(ChecksAYear) ?? longer.MaxBy(ChecksAYear) ?? longest).Run.Timing;
        }
    }

    private static double ChecksAYear(CandidateVerdict candidate) => candidate.Run.Find(IntervalMeasures.Checks)?.Estimate.Value ?? 0.0;
}
