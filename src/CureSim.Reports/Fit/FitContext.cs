using System.Collections.Immutable;

namespace CureSim.Reports.Fit;

/// <summary>Where a log comes from.</summary>
/// <param name="Stem">Names the folder of results.</param>
/// <param name="File">File as named.</param>
/// <param name="Sha256">Hash of it.</param>
/// <param name="Columns">Role, what it holds in words, header and whether it was guessed.</param>
/// <param name="Notes">What a reader of the file should know.</param>
public sealed record FitContext(string Stem, string File, string Sha256, ImmutableArray<(string Role, string Meaning, string Header, bool Guessed)> Columns, ImmutableArray<string> Notes)
{
    /// <summary>True when the folder of results holds a copy of the file.</summary>
    public bool Copied { get; init; }
}
