namespace CureSim.Reports.SelfCheck;

/// <summary>One check as it is listed in the record of a self-check.</summary>
/// <param name="Id">Short name.</param>
/// <param name="Topic">What it belongs to.</param>
/// <param name="What">What is compared.</param>
/// <param name="Source">Where the expected values come from.</param>
/// <param name="Provenance">What is known of the expected values.</param>
/// <param name="IsSampled">True when chance enters.</param>
/// <param name="ThroughEngine">True when a scenario is planned and simulated as any other run is.</param>
/// <param name="CountedWith">Checks with the same word count as one; null counts by itself.</param>
/// <param name="Expected">The expected values.</param>
/// <param name="Found">The values found, or why there are none.</param>
/// <param name="Tolerance">What was allowed, and why.</param>
/// <param name="Passed">The verdict.</param>
/// <param name="SmallestDetectable">Smallest relative error that each sampled figure would have shown; null for a deterministic check.</param>
/// <param name="Figures">Figures compared.</param>
public sealed record CheckedItem(
    string Id,
    string Topic,
    string What,
    string Source,
    string Provenance,
    bool IsSampled,
    bool ThroughEngine,
    string? CountedWith,
    string Expected,
    string Found,
    string Tolerance,
    bool Passed,
    double? SmallestDetectable,
    int Figures)
{
    /// <summary>The verdict as a word.</summary>
    public string Verdict => Passed ? "pass" : "MISS";
}
