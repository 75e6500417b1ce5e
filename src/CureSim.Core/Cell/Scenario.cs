using System.Collections.Immutable;

namespace CureSim.Core.Cell;

/// <summary>
/// What a cell is, complete and validated, in SI units: the input of the engine. Immutable; holds no file names and no text to parse.
/// </summary>
/// <remarks>Places kept for later parts: belt, spectra (band), droop, depth of cure, bond temperature.</remarks>
public sealed record Scenario(
    string Name,
    Production Production,
    Source Source,
    Loop Loop,
    Guide? Guide,
    Tip Tip,
    Fixture Fixture,
    ImmutableArray<Disturbance> Disturbances,
    Substrate? Substrate,
    Exposure Exposure,
    Cure? Cure,
    Checks? Checks,
    Radiometer Radiometer,
    Downtimes Downtimes,
    Window Window,
    Requalification Requalification,
    PresentState? Now,
    RunSettings Run)
{
    /// <summary>Qualification plans whose assurance is asked for; they change nothing of a lifetime.</summary>
    public ImmutableArray<QualificationPlan> Qualification { get; init; } = [];

    /// <summary>Unknowns whose errors of estimate go together; empty when all unknowns are independent.</summary>
    public ImmutableArray<UnknownCorrelation> UnknownCorrelations { get; init; } = [];

    /// <summary>What the interval study compares and requires; it changes nothing of a lifetime. Null: the usual.</summary>
    public IntervalStudy? IntervalStudy { get; init; }

    /// <summary>What the process-window study maps and requires; it changes nothing of a lifetime. Null: the usual.</summary>
    public WindowStudy? WindowStudy { get; init; }

    /// <summary>What things cost; they change nothing of a lifetime. Null: costs are not counted.</summary>
    public Costs? Costs { get; init; }

    /// <summary>What the ownership study needs beside the costs; it changes nothing of a lifetime. Null: the scenario is no option of it.</summary>
    public Ownership? Ownership { get; init; }
}

/// <summary>How many lifetimes to simulate, and from which seed.</summary>
/// <param name="Worlds">M; 1 when nothing is unknown.</param>
/// <param name="LifetimesPerWorld">N.</param>
/// <param name="PartsAStep">Parts sampled in each step, ≥ 1.</param>
/// <param name="Seed">Key of every draw.</param>
public sealed record RunSettings(int Worlds, int LifetimesPerWorld, int PartsAStep, ulong Seed)
{
    /// <summary>
    /// What the figures must reach before a run to a precision stops; null when the numbers of worlds and lifetimes are given. With it those numbers are
    /// one round, which is what anything takes that does not run to a precision.
    /// </summary>
    public Precision? Precision { get; init; }

    /// <summary>How lifetimes are spread over what varies from cell to cell.</summary>
    public Sampling Sampling { get; init; }
}
