using CureSim.Core.Cell;

namespace CureSim.Studies.Runs;

/// <summary>What was simulated independently among replayed lifetimes, which go through the worlds in turn: the world where there are enough of them, else the lifetime.</summary>
public static class MonteCarloUnit
{
    /// <summary>Worlds that bear an error of their own at least: with fewer it would itself be known to a third or worse (seven degrees of freedom: 27 %).</summary>
    public const int LeastWorlds = 8;

    /// <summary>True when worlds are the unit.</summary>
    public static bool IsWorld(Scenario scenario) => scenario.Run.Worlds >= LeastWorlds;

    /// <summary>Unit of a replayed lifetime, from 0.</summary>
    public static int Of(Scenario scenario, int number) => IsWorld(scenario) ? number % scenario.Run.Worlds : number;
}
