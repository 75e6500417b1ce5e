using CureSim.Core.Cell;
using CureSim.Engine.Plan;
using CureSim.Scenarios;

namespace CureSim.Benchmarks;

/// <summary>Scenario files of the benchmarks, with settings replaced.</summary>
internal static class Cases
{
    /// <summary>A scenario that lies beside the program or among the shipped ones.</summary>
    /// <exception cref="InvalidOperationException">The scenario does not read.</exception>
    public static Scenario Read(string file, params string[] sets)
    {
        string path = Path.Combine(AppContext.BaseDirectory, file);
        if (!File.Exists(path))
        {
            path = Path.Combine(ResultTable.Root, "scenarios", file);
        }

        var reading = ScenarioReader.Read(path, sets);
        return reading.Cell ?? throw new InvalidOperationException(string.Join('\n', reading.Problems));
    }

    /// <summary>The same with other numbers of lifetimes.</summary>
    public static RunPlan Plan(Scenario scenario, int lifetimes) =>
        new(scenario with { Run = scenario.Run with { LifetimesPerWorld = lifetimes } });
}
