using System.Globalization;

namespace CureSim.Checks.Comparing;

/// <summary>Collects numbers beside the ones they must equal within a tolerance, for deterministic checks.</summary>
/// <param name="tolerance">The relative difference that is allowed.</param>
/// <param name="reason">Why that much.</param>
internal sealed class ExactComparison(double tolerance, string reason)
{
    private const int Shown = 6;
    private readonly List<(string Name, double Expected, double Found)> pairs = [];
    private readonly List<string> wrong = [];
    private string? planted;

    /// <summary>Adds a number.</summary>
    public void Add(string name, double expected, double found)
    {
        pairs.Add((name, expected, found));
        if (!Agree(expected, found))
        {
            wrong.Add(FormattableString.Invariant($"{name} {found:R} instead of {expected:R}"));
        }
    }

    /// <summary>Adds a statement that must hold.</summary>
    public void Add(string statement, bool holds)
    {
        pairs.Add((statement, 1.0, holds ? 1.0 : 0.0));
        if (!holds)
        {
            wrong.Add(statement + ": does not hold");
        }
    }

    /// <summary>A value that a stated wrong formula gives; it must not agree with what was found.</summary>
    public void Plant(string error, double wrongValue, double found)
    {
        bool refused = !Agree(wrongValue, found);
        planted = $"; planted error ({error}) {(refused ? "refused" : "NOT REFUSED")}";
        if (!refused)
        {
            wrong.Add($"the planted error ({error}) agrees");
        }
    }

    /// <summary>The outcome; nothing compared is a failure.</summary>
    public CheckOutcome Outcome()
    {
        string numbers = string.Join("; ", pairs.Take(Shown).Select(p => $"{p.Name} {Print(p.Expected)}")) + More();
        double worst = pairs.Count == 0 ? double.NaN : pairs.Max(p => Math.Abs(p.Found - p.Expected) / Scale(p.Expected));
        string found = wrong.Count > 0
            ? string.Join("; ", wrong.Take(Shown)) + (wrong.Count > Shown ? $"; and {wrong.Count - Shown} more" : string.Empty)
            : FormattableString.Invariant($"the same in all {pairs.Count}, largest difference {worst:G2}");
        return new CheckOutcome(
            numbers, found, FormattableString.Invariant($"{tolerance:G3} relative: {reason}") + planted, pairs.Count > 0 && wrong.Count == 0, null, pairs.Count);
    }

    private static string Print(double x) => x.ToString("G9", CultureInfo.InvariantCulture);

    private static double Scale(double expected) => expected == 0.0 ? 1.0 : Math.Abs(expected);

    private bool Agree(double expected, double found) => Math.Abs(found - expected) <= tolerance * Scale(expected);

    private string More() => pairs.Count > Shown ? $"; and {pairs.Count - Shown} more" : string.Empty;
}
