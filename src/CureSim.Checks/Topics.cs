namespace CureSim.Checks;

/// <summary>Topics of the catalogue, in the order in which they are listed.</summary>
public static class Topics
{
    /// <summary>Whole runs against exact answers.</summary>
    public const string ClosedForm = "closed form";

    /// <summary>Every level drawn anew at its event and at no other time.</summary>
    public const string Draws = "draws";

    /// <summary>p(state) against exact answers.</summary>
    public const string State = "state";

    /// <summary>The counted and the conditional fraction.</summary>
    public const string Fraction = "fraction";

    /// <summary>Topics whose checks plan, simulate or judge; the other checks are of the arithmetic alone.</summary>
    public static IReadOnlyList<string> Simulated { get; } = [ClosedForm, Draws, State, Fraction];
}
