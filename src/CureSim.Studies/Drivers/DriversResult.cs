using System.Collections.Immutable;
using CureSim.Core.Cell;
using CureSim.Engine.Plan;
using CureSim.Engine.Runs;

namespace CureSim.Studies.Drivers;

/// <summary>What drives the spread: indices of the dose, importance for the lifetimes' ends, and the what-if table. A pure function of the scenario and of what is asked for.</summary>
/// <param name="Scenario">The scenario.</param>
/// <param name="WhatIf">The what-if table.</param>
/// <param name="Indices">Indices of the dose.</param>
/// <param name="Importances">Importance of the draws.</param>
/// <param name="Lifetimes">Lifetimes simulated.</param>
public sealed record DriversResult(Scenario Scenario, WhatIf WhatIf, DoseIndices Indices, ImmutableArray<Importance> Importances, long Lifetimes)
{
    /// <summary>Runs the study.</summary>
    /// <param name="scenario">The scenario.</param>
    /// <param name="site">Site of the bond whose dose is taken apart, from 0.</param>
    /// <param name="points">Points of the indices; null: as many as a stated amount of work allows.</param>
    /// <param name="threads">Threads; results do not depend on it.</param>
    /// <param name="progress">Called now and then.</param>
    /// <param name="cancel">Stops it.</param>
    public static DriversResult Run(Scenario scenario, int site, int? points, int threads, Action<RunProgress>? progress = null, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(scenario);
        var own = scenario with { Run = scenario.Run with { Precision = null } };
        int wanted = points ?? DoseIndices.PointsFor(own);
        long records = (long)own.Run.Worlds * own.Run.LifetimesPerWorld, table = WhatIf.Lifetimes(own), indices = DoseIndices.Lifetimes(own, wanted), done = 0;
        var clock = System.Diagnostics.Stopwatch.StartNew();
        void Report(long more) => progress?.Invoke(new(done + more, records + table + indices, clock.Elapsed));
        var whatIf = WhatIf.Run(own, threads, Report, cancel);
        done += table;
        var run = new LocalRunner(new RunPlan(own), threads, p => Report(p.LifetimesDone)).Run(cancel);
        done += records;
        var importances = Importance.Of(run);
        var found = DoseIndices.Run(own, site, wanted, threads, Report, cancel);
        done += indices;
        return new(own, whatIf, found, importances, done);
    }
}
