using CureSim.Core.Cell;

namespace CureSim.StatisticalTests.Reference;

/// <summary>
/// A plain scalar engine, written to be read beside docs/model.md: one lifetime of one world, step by step, and everything that happened in it.
/// </summary>
/// <remarks>
/// Derived from that page alone. It shares with the engine under test the addressed draws, the distributions and the elementary functions,
/// and no equation and no order of events.
/// </remarks>
/// <param name="scenario">The cell.</param>
/// <param name="verdict">How a state is judged.</param>
public sealed class ReferenceEngine(Scenario scenario, IStateVerdict verdict)
{
    /// <summary>Also keep the value in force of every quantity above part level at the middle of each step.</summary>
    public bool KeepLevels { get; init; }

    /// <summary>The tolerance limit of a scenario that takes it from the window; it is found outside this engine.</summary>
    public double? ToleranceLimit { get; init; }

    /// <summary>Lifetimes that share out the strata of draws above part level; 0: every lifetime draws for itself.</summary>
    public int LeafSize { get; init; }

    /// <summary>Simulates one lifetime.</summary>
    /// <param name="world">From 0.</param>
    /// <param name="lifetime">Within its world, from 0.</param>
    public LifetimeHistory Run(int world, uint lifetime)
    {
        double? tolerance = scenario.Checks is null ? double.NaN : ToleranceLimit ?? scenario.Checks.ToleranceLimit;
        return new ReferenceLifetime(
            scenario,
            verdict,
            new ReferenceDraws(scenario.Run.Seed, world, lifetime, LeafSize),
            tolerance ?? throw new InvalidOperationException("The scenario takes its tolerance limit from the window: give ToleranceLimit."),
            KeepLevels).Run();
    }
}
