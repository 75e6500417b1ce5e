using System.Collections.Immutable;
using CureSim.Core.Statistics;
using CureSim.Engine.Runs;

namespace CureSim.Studies.Ownership;

/// <summary>The options at one number of sites.</summary>
/// <param name="Sites">Sites of the cell, all of one part.</param>
/// <param name="Options">Each option, in the order of the files; null where its scenario cannot be at so many sites.</param>
/// <param name="Why">Why not, in the same order; null where it can.</param>
/// <param name="Comparison">Those that can be.</param>
public sealed record SitesPoint(int Sites, ImmutableArray<OptionMoney?> Options, ImmutableArray<string?> Why, Comparison? Comparison)
{
    /// <summary>The cheapest of those that hold the window; null when none is known to.</summary>
    public OptionMoney? Best => Options.OfType<OptionMoney>().Where(o => o.HoldsWindow == true).MinBy(o => o.Mean(o.Run.Years).Get());

    /// <summary>True when another option that holds the window cannot be told from the cheapest: the interval of their mean difference holds zero.</summary>
    public bool IsOpen => Best is { } best && Options.OfType<OptionMoney>().Any(o => o != best && o.HoldsWindow == true && Comparison!.Pair(best, o).Mean[^1] is { Lower95: <= 0.0, Upper95: >= 0.0 });

    /// <summary>The chance that an option is cheaper than another over the horizon; withheld when one of them cannot be.</summary>
    public Estimate Ahead(int option, int other) => Options[option] is { } a && Options[other] is { } b
        ? Comparison!.Pair(a, b).Ahead[^1] : Estimate.Withhold("one of the two cannot be at so many sites");
}

/// <summary>One shared emitter splits its light over more sites; one emitter a site does not: where does one overtake the other?</summary>
public sealed class SitesSweep
{
    private SitesSweep(ImmutableArray<SitesPoint> points, ImmutableArray<string> labels, long lifetimes)
    {
        Points = points;
        Labels = labels;
        Lifetimes = lifetimes;
    }

    /// <summary>Points, by rising number of sites.</summary>
    public ImmutableArray<SitesPoint> Points { get; }

    /// <summary>Labels of the options, in the order of the files.</summary>
    public ImmutableArray<string> Labels { get; }

    /// <summary>Lifetimes simulated.</summary>
    public long Lifetimes { get; }

    /// <summary>Runs the sweep.</summary>
    /// <param name="cases">For each number of sites: the options (null where a scenario cannot be), and why not.</param>
    /// <param name="labels">Labels of the options.</param>
    /// <param name="threads">Threads; results do not depend on it.</param>
    /// <param name="progress">Called now and then.</param>
    /// <param name="cancel">Stops it.</param>
    public static SitesSweep Run(
        IReadOnlyList<(int Sites, ImmutableArray<OwnershipOption?> Options, ImmutableArray<string?> Why)> cases, ImmutableArray<string> labels, int threads,
        Action<RunProgress>? progress = null, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(cases);
        long planned = cases.Sum(c => c.Options.Sum(o => o is null ? 0L : (long)o.Scenario.Run.Worlds * o.Scenario.Run.LifetimesPerWorld)), done = 0;
        var clock = System.Diagnostics.Stopwatch.StartNew();
        var points = ImmutableArray.CreateBuilder<SitesPoint>();
        foreach (var (sites, options, why) in cases)
        {
            var runs = new List<OptionRun>();
            foreach (var option in options.OfType<OwnershipOption>())
            {
                runs.Add(OptionRun.Run(option, option.Scenario, threads, p => progress?.Invoke(new(done + p.LifetimesDone, planned, clock.Elapsed)), cancel));
                done += runs[^1].Records.Length;
            }

            var comparison = runs.Count > 0 ? Comparison.Of(runs) : null;
            points.Add(new(sites, [.. options.Select(o => o is null ? null : comparison!.Options.First(m => m.Run.Option == o))], why, comparison));
        }

        return new(points.ToImmutable(), labels, done);
    }
}
