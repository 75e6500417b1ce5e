using System.Collections.Immutable;
using CureSim.Core.Cell;
using CureSim.Core.Statistics;

namespace CureSim.Studies.Runs;

/// <summary>Where a figure stands that was asked to be precise.</summary>
public enum PrecisionOutcome
{
    /// <summary>Its 95 % half-width is as small as asked.</summary>
    Met,

    /// <summary>It is not yet.</summary>
    NotMet,

    /// <summary>The figure does not exist in this scenario, however many lifetimes are simulated.</summary>
    Unreachable,
}

/// <summary>One figure that was asked to be precise.</summary>
/// <param name="Target">What was asked.</param>
/// <param name="Measure">The figure.</param>
/// <param name="Estimate">Its value with its interval.</param>
/// <param name="Asked">Half-width asked for, in the figure's printed unit, or as a part of the figure.</param>
/// <param name="HalfWidth">Half-width reached, likewise; null when there is none.</param>
/// <param name="Outcome">Where it stands.</param>
/// <param name="Enough">Lifetimes, in all worlds together, that are likely to be enough; null when that cannot be told.</param>
/// <param name="Reason">Why there is no half-width, or why the figure is unreachable; else null.</param>
public sealed record PrecisionFinding(
    PrecisionTarget Target, Measure Measure, Estimate Estimate, double Asked, double? HalfWidth, PrecisionOutcome Outcome, long? Enough, string? Reason);

/// <summary>What ended a run to a precision.</summary>
/// <param name="Findings">Each figure.</param>
/// <param name="Lifetimes">Lifetimes simulated, in all worlds together.</param>
/// <param name="MostLifetimes">The cap.</param>
/// <param name="Looks">How often the figures were looked at.</param>
public sealed record PrecisionVerdict(ImmutableArray<PrecisionFinding> Findings, long Lifetimes, int MostLifetimes, int Looks)
{
    /// <summary>True when every figure is as precise as asked.</summary>
    public bool IsMet => Findings.All(f => f.Outcome == PrecisionOutcome.Met);

    /// <summary>True when the cap ended the run: some figure could have become precise enough.</summary>
    public bool EndedByCap => Findings.Any(f => f.Outcome == PrecisionOutcome.NotMet);

    /// <summary>Lifetimes that are likely to be enough in all: those simulated when nothing is left to reach, the cap when it cannot be told.</summary>
    public long LikelyEnough => !EndedByCap ? Lifetimes
        : Math.Max(Lifetimes + 1, Findings.Where(f => f.Outcome == PrecisionOutcome.NotMet).Max(f => f.Enough ?? MostLifetimes));
}
