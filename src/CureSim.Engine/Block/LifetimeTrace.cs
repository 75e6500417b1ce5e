using System.Collections.Immutable;

namespace CureSim.Engine.Block;

/// <summary>One thing that happened in a replayed lifetime.</summary>
/// <param name="Seconds">Production clock, s.</param>
/// <param name="What">Kind of event.</param>
/// <param name="Detail">More words, or null.</param>
/// <param name="Site">Site from 0 (or emitter place), or null for the cell.</param>
/// <param name="Value">A number that belongs to it, SI, or null.</param>
public sealed record TraceEvent(double Seconds, string What, string? Detail, int? Site, double? Value);

/// <summary>One site at the middle of a step.</summary>
public sealed record TraceSite(
    double BurnSeconds, double LitSeconds, double Exposures, double Drive, double SensedFull, double NominalIrradiance, double DistanceMetres);

/// <summary>One step of a replayed lifetime: state at its middle.</summary>
public sealed record TraceStep(double Seconds, ImmutableArray<TraceSite> Sites, bool Qualified, bool Inside, double? NonconformingProbability);

/// <summary>One bond of a replayed lifetime.</summary>
public sealed record TraceBond(int Step, int Part, int Site, double Irradiance, double Dose, double DegreeOfCure);

/// <summary>An as-found or as-left indication taken apart: logarithms of its factors, which sum to that of the indication (W/m²).</summary>
/// <param name="Seconds">Production clock, s.</param>
/// <param name="Site">Site from 0.</param>
/// <param name="AsFound">True as found, false as left.</param>
/// <param name="Indication">W/m².</param>
/// <param name="Source">Emitter at its drive, W/m².</param>
/// <param name="Guide">Guide with its losses, leg and seat.</param>
/// <param name="Fouling">Tip.</param>
/// <param name="Disturbance">Disturbances that act on transmission.</param>
/// <param name="Fixture">Distance and aim, where the radiometer is held in place of the bond.</param>
/// <param name="Meter">Errors of the reading.</param>
public sealed record TraceReading(
    double Seconds, int Site, bool AsFound, double Indication, double Source, double Guide, double Fouling, double Disturbance, double Fixture, double Meter)
{
    /// <summary>Drive during the reading, ratio.</summary>
    public required double Drive { get; init; }

    /// <summary>Burn time of the emitter, s.</summary>
    public required double BurnSeconds { get; init; }

    /// <summary>Part of <see cref="Meter"/> that another reading a moment later draws anew.</summary>
    public required double Repeatability { get; init; }
}

/// <summary>Everything that is written down of one lifetime when it is replayed alone.</summary>
public sealed class LifetimeTrace
{
    /// <summary>Events in the order in which they happened.</summary>
    public List<TraceEvent> Events { get; } = [];

    /// <summary>Steps.</summary>
    public List<TraceStep> Steps { get; } = [];

    /// <summary>As-found and as-left indications taken apart.</summary>
    public List<TraceReading> Readings { get; } = [];

    /// <summary>Bonds sampled.</summary>
    public List<TraceBond> Bonds { get; } = [];

    internal void Add(double seconds, string what, string? detail, int? site, double? value) => Events.Add(new(seconds, what, detail, site, value));
}
