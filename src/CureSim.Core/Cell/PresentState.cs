using System.Collections.Immutable;

namespace CureSim.Core.Cell;

/// <summary>The plant's present state, from which the first emitter and guide of every lifetime start. Null entries: as new.</summary>
/// <param name="EmitterBurnSeconds">Burn time of each emitter (one for a shared emitter, else one a site).</param>
/// <param name="GuideLitSeconds">Lit time of each guide (one for a shared emitter, else one a site).</param>
/// <param name="Drive">Present drive of each emitter, ratio. With it, commissioning does not set: the cell goes on as it is.</param>
/// <param name="LegShares">Measured share of each leg relative to their mean.</param>
/// <param name="ExposuresSinceCleaning">N of each tip.</param>
/// <param name="LastAsLeftWattsPerSquareMetre">Last as-left indication of each site.</param>
public sealed record PresentState(
    ImmutableArray<double>? EmitterBurnSeconds,
    ImmutableArray<double>? GuideLitSeconds,
    ImmutableArray<double>? Drive,
    ImmutableArray<double>? LegShares,
    ImmutableArray<double>? ExposuresSinceCleaning,
    ImmutableArray<double>? LastAsLeftWattsPerSquareMetre);
