namespace CureSim.Reports.Runs;

/// <summary>How a line of an answer is to be read.</summary>
public enum AnswerTone
{
    /// <summary>A statement.</summary>
    Plain,

    /// <summary>A requirement is met.</summary>
    Met,

    /// <summary>A requirement is missed.</summary>
    Missed,
}

/// <summary>One line of an answer.</summary>
/// <param name="Label">What it is about; empty for a line that stands alone.</param>
/// <param name="Text">The statement, with units and intervals.</param>
/// <param name="Tone">How it is to be read.</param>
public sealed record AnswerLine(string Label, string Text, AnswerTone Tone = AnswerTone.Plain)
{
    /// <summary>What a terminal shows of it, where the page says more; empty: nothing. Null: the whole text.</summary>
    public string? Brief { get; init; }
}
