using System.Collections.Immutable;
using CureSim.Core.Cell;
using CureSim.Core.Random;
using CureSim.Core.Summaries;
using CureSim.Engine.Plan;
using CureSim.Engine.Runs;
using CureSim.Studies.Interval;

namespace CureSim.Studies.Ownership;

/// <summary>One option simulated: its lifetimes year by year, and what its prices are in each of them.</summary>
public sealed class OptionRun
{
    /// <summary>Most repetitions of a validation that fails; beyond it a plant would give up.</summary>
    public const int MostRepeats = 5;

    private readonly LifetimeRecord[] records;
    private readonly double[] prices;

    private OptionRun(OwnershipOption option, Scenario scenario, RunPlan plan, RunResult result, YearLedger ledger)
    {
        Option = option;
        Scenario = scenario;
        Plan = plan;
        Years = ledger.Years;
        records = [.. result.Records];
        Uses = [.. Enumerable.Range(0, records.Length).Select(i => LifetimeUse.Of(scenario, ledger.Of(i)))];
        var timing = scenario.Checks is { } checks ? CheckTimings.Of(checks, CheckTimings.Present) : new CheckTiming("none", scenario.Production.StepCount, null, null, false);
        Figures = CandidateRun.Of(timing, plan, result);
        PriceList = Price.Of(scenario.Costs!, scenario.Ownership!);
        prices = new double[records.Length * Price.Count];
        Repeats = new int[records.Length];
        var fails = StreamKey.Of(DrawDomain.Reserved, "ownership.project.validation");
        double chance = scenario.Ownership!.Project?.FailureProbability ?? 0.0;
        for (int i = 0; i < records.Length; i++)
        {
            var (world, lifetime, seed) = (records[i].World, records[i].Lifetime, scenario.Run.Seed);
            for (int k = 0; k < Price.Count; k++)
            {
                prices[(i * Price.Count) + k] = Price.Draw(PriceList[k], seed, world, lifetime);
            }

            while (Repeats[i] < MostRepeats && Draw.Uniform(seed, world, lifetime, fails, Repeats[i]) < chance)
            {
                Repeats[i]++;
            }
        }
    }

    /// <summary>The option.</summary>
    public OwnershipOption Option { get; }

    /// <summary>Its scenario, with the routine that was run.</summary>
    public Scenario Scenario { get; }

    /// <summary>Years of the horizon.</summary>
    public int Years { get; }

    /// <summary>What each lifetime uses.</summary>
    public ImmutableArray<LifetimeUse> Uses { get; }

    /// <summary>Figures of its checks and parts, with bands over worlds.</summary>
    public CandidateRun Figures { get; }

    /// <summary>Its prices.</summary>
    public ImmutableArray<Quantity> PriceList { get; }

    /// <summary>Repetitions of the validation, by lifetime.</summary>
    public int[] Repeats { get; }

    /// <summary>Records, in the order of world and lifetime.</summary>
    public ReadOnlyMemory<LifetimeRecord> Records => records;

    /// <summary>The plan, whose table another run may use.</summary>
    internal RunPlan Plan { get; }

    /// <summary>The prices of a lifetime; a copy that may be changed.</summary>
    public double[] PricesOf(int lifetime) => prices[(lifetime * Price.Count)..((lifetime + 1) * Price.Count)];

    /// <summary>Simulates an option.</summary>
    /// <param name="option">The option.</param>
    /// <param name="scenario">Its scenario with the routine and the size to be run.</param>
    /// <param name="threads">Threads; results do not depend on it.</param>
    /// <param name="progress">Called now and then.</param>
    /// <param name="cancel">Stops it.</param>
    /// <param name="like">Another run of the study whose state table is used where it rests on the same quantities; null for none.</param>
    public static OptionRun Run(OwnershipOption option, Scenario scenario, int threads, Action<RunProgress>? progress, CancellationToken cancel, OptionRun? like = null)
    {
        ArgumentNullException.ThrowIfNull(scenario);

        // Fractions rest on states, so one sampled part a step is enough; a part's draws do not depend on how many are sampled.
        scenario = scenario with { Run = scenario.Run with { PartsAStep = 1 } };
        var plan = new RunPlan(scenario, like?.Plan);
        var ledger = new YearLedger(scenario);
        var result = new LocalRunner(plan, threads, progress) { Beside = new() { Ledger = ledger } }.Run(cancel);
        return new(option, scenario, plan, result, ledger);
    }
}
