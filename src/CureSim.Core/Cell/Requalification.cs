using System.Collections.Immutable;

namespace CureSim.Core.Cell;

/// <summary>Events after which a cell must be requalified, in the order in which causes are named at equal time.</summary>
public enum RequalifyEvent
{
    /// <summary>An as-found verdict out of tolerance.</summary>
    OutOfToleranceFound,

    /// <summary>A check's routine is done and the state is not qualified.</summary>
    StateLost,

    /// <summary>The loop is saturated: from the alarm, or the check that meets it.</summary>
    LoopSaturated,

    /// <summary>An emitter was replaced.</summary>
    EmitterReplaced,

    /// <summary>A guide was replaced.</summary>
    GuideReplaced,

    /// <summary>Any excursion from the qualified state.</summary>
    StateLeft,
}

/// <summary>When and how a cell is requalified.</summary>
/// <param name="On">Events, sorted in their written order.</param>
/// <param name="RecordOnly">True: the event is written down and nothing physical follows.</param>
/// <param name="RequiredCapability">State index that a qualified state reaches; null: qualified while every nominal bond is inside the window.</param>
public sealed record Requalification(ImmutableArray<RequalifyEvent> On, bool RecordOnly, double? RequiredCapability);
