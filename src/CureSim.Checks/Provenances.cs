namespace CureSim.Checks;

/// <summary>What is known of an expected value. Several may hold; they are joined by " + ".</summary>
public static class Provenances
{
    /// <summary>Seen in a copy of the source, and reproduced.</summary>
    public const string FoundPublished = "found published";

    /// <summary>Computed anew from the definition, by another program than ours.</summary>
    public const string Recomputed = "recomputed";

    /// <summary>The arithmetic is exact; that the document prints it is memory.</summary>
    public const string RecalledFromMemory = "recalled from memory";

    /// <summary>Follows from a formula that is written out in the check.</summary>
    public const string ClosedForm = "closed form";

    /// <summary>A rule of the trade.</summary>
    public const string CommonPractice = "common practice, no source";

    /// <summary>All of them.</summary>
    public static IReadOnlyList<string> All { get; } = [FoundPublished, Recomputed, RecalledFromMemory, ClosedForm, CommonPractice];
}
