using System.Collections.Immutable;

namespace CureSim.Reports.Capability;

/// <summary>Where a sample comes from, in the words that reports use.</summary>
/// <param name="Stem">Name of the sample: the stem of its file.</param>
/// <param name="File">The file as it was named.</param>
/// <param name="Sha256">SHA-256 of its bytes.</param>
/// <param name="Column">Header of the column.</param>
/// <param name="Name">What was measured, in words: "dose".</param>
/// <param name="Unit">Its unit as people read it; null without one.</param>
/// <param name="UnitSuffix">Its unit at the end of a machine header; empty without one.</param>
/// <param name="Group">Header of the grouping column; null without one.</param>
/// <param name="Lines">Line of the file of each value.</param>
public sealed record CapabilityContext(
    string Stem, string File, string Sha256, string Column, string Name, string? Unit, string UnitSuffix, string? Group, ImmutableArray<int> Lines)
{
    /// <summary>True when a copy of the file lies in the folder of results.</summary>
    public bool Copied { get; init; } = true;

    /// <summary>A machine header with the unit at its end: "mean_j_per_cm2".</summary>
    public string Header(string of) => UnitSuffix.Length > 0 ? $"{of}_{UnitSuffix}" : of;

    /// <summary>What was measured, with a capital letter, for an axis.</summary>
    public string Title => Name.Length == 0 ? "Value" : char.ToUpperInvariant(Name[0]) + Name[1..];

    /// <summary>What was measured, for a sentence.</summary>
    public string Words => Name.Length == 0 ? "value" : Name;
}
