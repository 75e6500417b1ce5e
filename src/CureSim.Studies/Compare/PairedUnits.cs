using System.Collections.Immutable;
using CureSim.Core.Summaries;
using CureSim.Engine.Runs;
using CureSim.Studies.Runs;

namespace CureSim.Studies.Compare;

/// <summary>Two runs cut into the same independent units: batches of one world, or worlds.</summary>
internal sealed class PairedUnits
{
    /// <summary>Cuts both runs.</summary>
    public PairedUnits(RunAnalysis a, RunAnalysis b)
        : this(a.Result, b.Result)
    {
    }

    /// <summary>Cuts two results.</summary>
    public PairedUnits(RunResult a, RunResult b)
    {
        AreWorlds = a.UnitsAreWorlds;
        AreDependent = a.Plan.IsStratified;
        Seed = a.Plan.Scenario.Run.Seed;
        WholeA = new(a.Plan, a.Total, a.Records.AsMemory());
        WholeB = new(b.Plan, b.Total, b.Records.AsMemory());
        A = Cut(a);
        B = Cut(b);
    }

    /// <summary>Takes two runs that are cut already, in the same units.</summary>
    public PairedUnits(RunPiece wholeA, RunPiece wholeB, IEnumerable<RunPiece> a, IEnumerable<RunPiece> b, bool areWorlds)
    {
        AreWorlds = areWorlds;
        Seed = wholeA.Plan.Scenario.Run.Seed;
        WholeA = wholeA;
        WholeB = wholeB;
        A = [.. a];
        B = [.. b];
    }

    /// <summary>True when the units are worlds.</summary>
    public bool AreWorlds { get; }

    /// <summary>True when the lifetimes of a unit share out strata, so that the unit is the least thing that is independent of the rest.</summary>
    public bool AreDependent { get; }

    /// <summary>Key of the draws of both runs.</summary>
    public ulong Seed { get; }

    /// <summary>All of the first run.</summary>
    public RunPiece WholeA { get; }

    /// <summary>All of the second run.</summary>
    public RunPiece WholeB { get; }

    /// <summary>Units of the first run that hold lifetimes.</summary>
    public ImmutableArray<RunPiece> A { get; }

    /// <summary>The same units of the second run.</summary>
    public ImmutableArray<RunPiece> B { get; }

    /// <summary>Worlds in which the second run's figure is above the first's.</summary>
    public int? WorldsAbove(Measure a, Measure b)
    {
        if (!AreWorlds)
        {
            return null;
        }

        int above = 0;
        for (int w = 0; w < A.Length; w++)
        {
            if (a.Value(A[w]) is not { } first || b.Value(B[w]) is not { } second)
            {
                return null;
            }

            above += second > first ? 1 : 0;
        }

        return above;
    }

    private static ImmutableArray<RunPiece> Cut(RunResult result)
    {
        var records = result.Records;
        int count = result.Units.Length;
        var lists = new List<LifetimeRecord>[count];
        for (int u = 0; u < count; u++)
        {
            lists[u] = [];
        }

        foreach (var record in records)
        {
            lists[result.UnitsAreWorlds ? record.World : record.Batch].Add(record);
        }

        return [.. result.Units.Select((unit, u) => new RunPiece(result.Plan, unit, lists[u].ToArray())).Where(p => p.Records.Length > 0)];
    }
}
