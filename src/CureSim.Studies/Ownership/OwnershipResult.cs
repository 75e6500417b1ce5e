using System.Collections.Immutable;
using CureSim.Engine.Runs;
using CureSim.Studies.Interval;

namespace CureSim.Studies.Ownership;

/// <summary>Which option costs least over the years, how sure that is, what the change may cost and what would turn the decision. A pure function of the scenarios.</summary>
public sealed class OwnershipResult
{
    private OwnershipResult(Comparison present)
    {
        Present = present;
        var installed = present.Options.Where(o => o.Run.Option.Installed).ToArray();

        // The question is that of the plant: its installed option against the cheapest other; without one, the cheapest against the next.
        var ranked = present.Options.OrderBy(o => o.Mean(o.Run.Years).Get()).ThenBy(o => o.Run.Option.Sha256, StringComparer.Ordinal).ToArray();
        Reference = installed.Length == 1 ? installed[0] : ranked[1];
        Challenger = ranked.First(o => o != Reference);
    }

    /// <summary>Every option with its checks as they are.</summary>
    public Comparison Present { get; }

    /// <summary>Every option with its own cheapest timing of checks that meets the requirement; null when that was not asked for or is the present one for all.</summary>
    public Comparison? Own { get; private init; }

    /// <summary>How those timings were found; empty when it was not asked for.</summary>
    public ImmutableArray<RoutineSearch> Routines { get; private init; } = [];

    /// <summary>The installed option, or the one next to the cheapest.</summary>
    public OptionMoney Reference { get; }

    /// <summary>What it is set against in the answer.</summary>
    public OptionMoney Challenger { get; }

    /// <summary>The pair of the answer: the challenger against the reference.</summary>
    public OptionPair Pair => Present.Pair(Challenger, Reference);

    /// <summary>The same pair with each option's own routine; null without.</summary>
    public OptionPair? OwnPair => Own is null ? null : Own.Pair(InOwn(Challenger), InOwn(Reference));

    /// <summary>What would turn the decision.</summary>
    public required WhatIf WhatIf { get; init; }

    /// <summary>Years of the horizon.</summary>
    public int Years => Present.Options[0].Run.Years;

    /// <summary>Currency of all options.</summary>
    public string Currency => Present.Options[0].Run.Scenario.Costs!.Currency;

    /// <summary>Lifetimes simulated in all.</summary>
    public long Lifetimes { get; private init; }

    /// <summary>An option with its own routine.</summary>
    public OptionMoney InOwn(OptionMoney option) => Own!.Options[Present.Options.IndexOf(option)];

    /// <summary>Runs the study.</summary>
    /// <param name="options">The options, already of one size and seed (<see cref="OptionRules"/>).</param>
    /// <param name="threads">Threads; results do not depend on it.</param>
    /// <param name="progress">Called now and then.</param>
    /// <param name="cancel">Stops it.</param>
    /// <param name="beside">False: the options at their present routine and prices only, without search of routines and runs with one unknown held.</param>
    public static OwnershipResult Run(IReadOnlyList<OwnershipOption> options, int threads, Action<RunProgress>? progress = null, CancellationToken cancel = default, bool beside = true)
    {
        ArgumentNullException.ThrowIfNull(options);
        var size = options[0].Scenario.Run;
        long each = (long)size.Worlds * size.LifetimesPerWorld, done = 0;
        long planned = (each * options.Count * (beside ? 2 : 1)) + (beside ? options.Sum(RoutineSearch.Planned) : 0);
        var clock = System.Diagnostics.Stopwatch.StartNew();
        long last = 0;
        void Report(RunProgress p)
        {
            // Runs follow each other: when a count falls, another one has begun.
            if (p.LifetimesDone < last)
            {
                done += last;
            }

            last = p.LifetimesDone;
            progress?.Invoke(new(Math.Min(planned, done + last), planned, clock.Elapsed));
        }

        long lifetimes = 0;
        OptionRun One(OwnershipOption option, Core.Cell.Scenario scenario, OptionRun? like = null)
        {
            lifetimes += each;
            return OptionRun.Run(option, scenario, threads, Report, cancel, like);
        }

        OptionRun[] runs = [.. options.Select(o => One(o, o.Scenario))];
        var present = Comparison.Of(runs);
        var probe = new OwnershipResult(present) { WhatIf = null! };
        var searches = ImmutableArray<RoutineSearch>.Empty;
        Comparison? own = null;
        if (beside)
        {
            searches = [.. options.Select(o => RoutineSearch.Of(o, threads, Report, cancel))];
            lifetimes += options.Sum(RoutineSearch.Planned);
            if (searches.Any(s => !s.IsPresent))
            {
                own = Comparison.Of([.. searches.Select((s, i) => s.IsPresent ? runs[i] : One(s.Option, CheckTimings.With(s.Option.Scenario, s.Timing!), runs[i]))]);
            }
        }

        OptionRun[] asked = [probe.Challenger.Run, probe.Reference.Run];
        OptionRun[] needed = [.. asked, .. runs.Where(r => r.Option.Installed && !asked.Contains(r))];
        planned += beside ? WhatIf.Planned(needed) : 0;
        lifetimes += beside ? WhatIf.Planned(needed) : 0;
        var whatIf = WhatIf.Of(needed, beside, threads, Report, cancel);
        return new OwnershipResult(present) { Own = own, Routines = searches, WhatIf = whatIf, Lifetimes = lifetimes };
    }
}
