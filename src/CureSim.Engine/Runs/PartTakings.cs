using System.Collections.Immutable;
using CureSim.Core.Cell;

namespace CureSim.Engine.Runs;

/// <summary>The parts that qualifications take in every lifetime of a run, and what they showed. Lifetimes write into places of their own, so threads need no lock.</summary>
public sealed class PartTakings
{
    private readonly TakenSample[][] samples;
    private readonly int perWorld;

    /// <summary>Makes room for a scenario's lifetimes.</summary>
    public PartTakings(Scenario scenario, ImmutableArray<PartTaking> takings)
    {
        ArgumentNullException.ThrowIfNull(scenario);
        Takings = takings;
        perWorld = scenario.Run.LifetimesPerWorld;
        int lifetimes = scenario.Run.Worlds * perWorld;
        samples = [.. takings.Select(_ => new TakenSample[lifetimes])];
        foreach (var row in samples)
        {
            for (int i = 0; i < row.Length; i++)
            {
                row[i] = new TakenSample(scenario.Window.Limits.Length, scenario.Production.SitesPerPart);
            }
        }
    }

    /// <summary>How parts are taken.</summary>
    public ImmutableArray<PartTaking> Takings { get; }

    /// <summary>Samples of one taking, in the order of the run's records (world, lifetime).</summary>
    public IReadOnlyList<TakenSample> Of(int taking) => samples[taking];

    internal TakenSample At(int taking, int world, uint lifetime) => samples[taking][(world * perWorld) + (int)lifetime];
}
