namespace CureSim.Checks;

/// <summary>Whether chance enters a check.</summary>
public enum CheckKind
{
    /// <summary>The same arithmetic every time; the tolerance is one of rounding or of a method.</summary>
    Deterministic,

    /// <summary>A Monte Carlo figure against an exact one, within standard errors; the seed is fixed.</summary>
    Sampled,
}

/// <summary>One comparison of the program with something that is known, ready to be run by a test or by the program itself.</summary>
/// <param name="Id">Short name, unique; never changes once released.</param>
/// <param name="Topic">What it belongs to, e.g. "closed form" or "capability".</param>
/// <param name="What">What is compared, in words.</param>
/// <param name="Source">Where the expected values come from.</param>
/// <param name="Provenance">What is known of them: one or more of <see cref="Provenances"/>, joined by " + ".</param>
/// <param name="Kind">Whether chance enters.</param>
/// <param name="ThroughEngine">True when a scenario is planned and simulated as any other run is.</param>
/// <param name="Evaluate">Makes the comparison; may throw, which <see cref="Run"/> counts as a failed check.</param>
public sealed record Check(
    string Id,
    string Topic,
    string What,
    string Source,
    string Provenance,
    CheckKind Kind,
    bool ThroughEngine,
    Func<CheckOutcome> Evaluate)
{
    /// <summary>Checks with the same word here count as one, so that many rows of one arithmetic do not swell the number of checks; null counts by itself.</summary>
    public string? CountedWith { get; init; }

    /// <summary>Makes the comparison; an exception is a failed check, never one that was not made.</summary>
    public CheckOutcome Run()
    {
        try
        {
            return Evaluate();
        }
        catch (Exception e) when (e is not OutOfMemoryException)
        {
            return new CheckOutcome("an answer", $"{e.GetType().Name}: {e.Message}", "none", Passed: false, SmallestDetectable: null, Figures: 0);
        }
    }
}
