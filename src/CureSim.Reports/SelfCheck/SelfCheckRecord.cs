using System.Collections.Immutable;

namespace CureSim.Reports.SelfCheck;

/// <summary>Where and when checks were made.</summary>
/// <param name="Version">Version of the tool.</param>
/// <param name="Commit">Source commit; null when not known.</param>
/// <param name="Started">Start, coordinated universal time.</param>
/// <param name="Seconds">Duration, s.</param>
/// <param name="Threads">Threads used.</param>
/// <param name="System">Operating system.</param>
/// <param name="Architecture">Processor architecture, number of processors.</param>
/// <param name="Instructions">Width of vectors and the instruction sets that the runtime uses.</param>
/// <param name="Runtime">.NET runtime.</param>
public sealed record CheckedPlace(
    string Version, string? Commit, DateTimeOffset Started, double Seconds, int Threads, string System, string Architecture, string Instructions, string Runtime);

/// <summary>All checks that were made on one machine, ready to be written down.</summary>
/// <param name="Items">In the order in which they are listed.</param>
/// <param name="Place">Where and when.</param>
/// <param name="Available">Checks that the tool has; more than <paramref name="Items"/> when only some were asked for.</param>
public sealed record SelfCheckRecord(ImmutableArray<CheckedItem> Items, CheckedPlace Place, int Available)
{
    /// <summary>What the kinds of provenance mean, for a legend.</summary>
    public static ImmutableArray<(string Letter, string Provenance, string Meaning)> Legend { get; } =
    [
        ("P", "found published", "seen in a copy of the source and reproduced"),
        ("R", "recomputed", "computed anew from the definition, by another program"),
        ("M", "recalled from memory", "the arithmetic is exact; that the document prints it is memory"),
        ("F", "closed form", "follows from a formula that is written out in the check"),
        ("C", "common practice, no source", "a rule of the trade"),
    ];

    /// <summary>True when every check passed and there was one.</summary>
    public bool AllPassed => !Items.IsEmpty && Items.All(i => i.Passed);

    /// <summary>True when only some of the checks were asked for.</summary>
    public bool IsSelection => Items.Length < Available;

    /// <summary>Checks, those that are counted together counted once.</summary>
    public int Count => CountOf(Items);

    /// <summary>Checks that failed, as they are counted.</summary>
    public int Missed => CountOf(Items.Where(i => !i.Passed));

    /// <summary>Checks through the whole engine.</summary>
    public int ThroughEngine => CountOf(Items.Where(i => i.ThroughEngine));

    /// <summary>Figures compared.</summary>
    public int Figures => Items.Sum(i => i.Figures);

    /// <summary>How many checks these are, those that are counted together counted once.</summary>
    public static int CountOf(IEnumerable<CheckedItem> items) => items.Select(i => i.CountedWith ?? "one: " + i.Id).Distinct(StringComparer.Ordinal).Count();

    /// <summary>The letters of a provenance, such as "P R".</summary>
    public static string Letters(string provenance)
    {
        ArgumentNullException.ThrowIfNull(provenance);
        return string.Join(' ', provenance.Split(" + ").Select(p => Legend.FirstOrDefault(l => l.Provenance == p).Letter ?? "?"));
    }

    /// <summary>The document behind a source, without clause and page: what counts by source are made of.</summary>
    public static string Document(CheckedItem item)
    {
        ArgumentNullException.ThrowIfNull(item);
        if (item.Provenance == "closed form")
        {
            return "closed forms, written out in the check";
        }

        // "JCGM 101:2008, 9.4.2, table 7" and "ISO 22514-2, percentile method" are of the document before the first comma; a year in brackets belongs to it.
        string[] standards = ["NIST/SEMATECH e-Handbook of Statistical Methods", "JCGM 101:2008", "JCGM 106:2012", "ISO 22514-2", "ISO 16269-6", "NIST Handbook 135"];
        return standards.FirstOrDefault(s => item.Source.Contains(s, StringComparison.Ordinal))
            ?? (item.Source.StartsWith("definition", StringComparison.Ordinal) ? "definitions, recomputed" : item.Source.Split(';')[0]);
    }
}
