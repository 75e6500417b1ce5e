namespace CureSim.Checks;

/// <summary>What a check found.</summary>
/// <param name="Expected">The expected values with their names.</param>
/// <param name="Found">The values found, with their standard errors when they are sampled.</param>
/// <param name="Tolerance">What was allowed, and why.</param>
/// <param name="Passed">True when every figure lies within its tolerance and, for a sampled check, the planted error was caught.</param>
/// <param name="SmallestDetectable">For a sampled check: the smallest relative error that each of its figures would have shown (3 standard errors of the
/// least certain one, relative to its expected value); null for a deterministic check.</param>
/// <param name="Figures">How many figures were compared.</param>
public sealed record CheckOutcome(string Expected, string Found, string Tolerance, bool Passed, double? SmallestDetectable, int Figures)
{
    /// <summary>All of it in a few lines, for a test's message or a terminal.</summary>
    public override string ToString() =>
        $"{(Passed ? "passed" : "FAILED")}\n  expected  {Expected}\n  found     {Found}\n  tolerance {Tolerance}"
        + (SmallestDetectable is { } d ? FormattableString.Invariant($"\n  smallest error that it would show: {100 * d:G3} %") : string.Empty);
}
