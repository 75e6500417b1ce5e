using System.Collections.Immutable;
using CureSim.Core.Cell;
using CureSim.Engine.Runs;
using CureSim.Studies.Interval;

namespace CureSim.Studies.Ownership;

/// <summary>The cheapest timing of an option's checks that meets what its interval study requires: equal routines for unequal sources would favour one of them.</summary>
/// <param name="Option">The option.</param>
/// <param name="Timing">The timing found; null when none meets the requirement (or nothing is checked).</param>
/// <param name="IsPresent">True when it is the one that the scenario has.</param>
/// <param name="Remark">Why none was found; null when one was.</param>
/// <param name="Candidates">Every timing tried, with its mean discounted cost and whether it meets the requirement.</param>
public sealed record RoutineSearch(OwnershipOption Option, CheckTiming? Timing, bool IsPresent, string? Remark, ImmutableArray<RoutineTried> Candidates)
{
    /// <summary>Most lifetimes of all worlds together that a timing is tried on.</summary>
    public const int MostLifetimes = 256;

    /// <summary>A smaller run: as many worlds as there are, up to the cap, and fewer lifetimes in each.</summary>
    public static RunSettings Fewer(RunSettings run, int most = MostLifetimes)
    {
        ArgumentNullException.ThrowIfNull(run);
        int worlds = Math.Min(run.Worlds, most / 2);
        return run with { Worlds = worlds, LifetimesPerWorld = Math.Max(1, Math.Min(run.LifetimesPerWorld, most / worlds)) };
    }

    /// <summary>How many lifetimes the search will simulate.</summary>
    public static long Planned(OwnershipOption option)
    {
        ArgumentNullException.ThrowIfNull(option);
        var run = Fewer(option.Scenario.Run);
        return option.Scenario.Checks is null ? 0 : (long)CheckTimings.For(option.Scenario).Length * run.Worlds * run.LifetimesPerWorld;
    }

    /// <summary>Searches.</summary>
    public static RoutineSearch Of(OwnershipOption option, int threads, Action<RunProgress>? progress, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(option);
        var cell = option.Scenario;
        if (cell.Checks is not { } checks)
        {
            return new(option, null, true, "nothing is checked", []);
        }

        var study = cell.IntervalStudy ?? IntervalStudy.Usual;
        var small = cell with { Run = Fewer(cell.Run) };
        var tried = ImmutableArray.CreateBuilder<RoutineTried>();
        OptionRun? first = null;
        foreach (var timing in CheckTimings.For(cell))
        {
            var run = OptionRun.Run(option, CheckTimings.With(small, timing), threads, progress, cancel, first);
            first ??= run;
            var verdict = CandidateVerdict.Of(run.Figures, study);

            // Running costs of the option alone: what is paid at the start is the same for every timing.
            var money = Comparison.Of([run], pair: false).Options[0];
            tried.Add(new(timing, money.MeanOf(c => c.Total - c.Start), verdict.Meets, verdict.Reliability, verdict.Ppm));
        }

        var best = tried.Where(t => t.Meets).OrderBy(t => t.Cost.Get()).FirstOrDefault();
        var present = CheckTimings.Of(checks, CheckTimings.Present);
        bool Same(CheckTiming t) => t with { Name = "" } == present with { Name = "" };
        string? remark = best is null ? "no timing of its checks meets the requirement" : null;
        return new(option, best?.Timing, best is null || Same(best.Timing), remark, tried.ToImmutable());
    }
}

/// <summary>A timing that was tried.</summary>
/// <param name="Timing">The timing.</param>
/// <param name="Cost">Mean discounted running cost over the horizon.</param>
/// <param name="Meets">Whether it meets the requirement of the interval study at the unfavourable ends.</param>
/// <param name="Reliability">Proportion of checks in tolerance as found, at its unfavourable end.</param>
/// <param name="Ppm">Nonconforming parts at their unfavourable end, ppm; null when they cannot be told.</param>
public sealed record RoutineTried(CheckTiming Timing, Core.Statistics.Estimate Cost, bool Meets, double Reliability, double? Ppm);
