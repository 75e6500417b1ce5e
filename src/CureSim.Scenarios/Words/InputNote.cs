using CureSim.Core.Cell;

namespace CureSim.Scenarios;

/// <summary>One input of a scenario, written or left out, as it is shown.</summary>
/// <param name="Path">Dotted path, the same as that of its <see cref="Quantity"/> when it is one.</param>
/// <param name="Text">The value as written, or as the default would be written; with what it was rounded to.</param>
/// <param name="Level">The event at which it is drawn anew; null for a setting that does not vary by its nature.</param>
/// <param name="Unit">Unit that values of this input are shown in; empty for words and plain numbers.</param>
/// <param name="Origin">Yours, default or typical.</param>
/// <param name="Meaning">What it is.</param>
public sealed record InputNote(string Path, string Text, Level? Level, string Unit, Origin Origin, string Meaning);
