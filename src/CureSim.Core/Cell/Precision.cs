using System.Collections.Immutable;

namespace CureSim.Core.Cell;

/// <summary>A figure whose precision may be asked for.</summary>
public enum PreciseFigure
{
    /// <summary>Mean dose over all bonds.</summary>
    MeanDose,

    /// <summary>Ppk by moments of every limited response.</summary>
    Ppk,

    /// <summary>Cpk of every limited response.</summary>
    Cpk,

    /// <summary>5th percentile over cells of the state index, just before a check (at the end without checks).</summary>
    StateIndex,

    /// <summary>Nonconforming bonds and parts, averaged over judged states.</summary>
    FractionNonconforming,

    /// <summary>Median time to requalify.</summary>
    MedianTimeToRequalify,
}

/// <summary>How precise a figure must be.</summary>
/// <param name="Figure">Which.</param>
/// <param name="HalfWidth">Largest half-width of its 95 % interval, above 0: relative to the figure for <see cref="IsRelative"/> ones, else in SI.</param>
public sealed record PrecisionTarget(PreciseFigure Figure, double HalfWidth)
{
    /// <summary>True for figures whose half-width is a part of the figure itself: the mean dose and the fraction nonconforming.</summary>
    public bool IsRelative => Figure is PreciseFigure.MeanDose or PreciseFigure.FractionNonconforming;
}

/// <summary>What a run must reach before it stops.</summary>
/// <param name="Targets">At least one, each figure once.</param>
/// <param name="MostLifetimes">Lifetimes at which it stops in any case, all worlds together; at least 4,096.</param>
public sealed record Precision(ImmutableArray<PrecisionTarget> Targets, int MostLifetimes);
