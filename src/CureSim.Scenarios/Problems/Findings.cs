using System.Collections.Immutable;

namespace CureSim.Scenarios;

/// <summary>Collects what the rules find; no rule throws and none stops the next.</summary>
internal sealed class Findings
{
    private readonly List<Problem> problems = [];
    private readonly List<Problem> warnings = [];

    public bool Any => problems.Count > 0;

    public ImmutableArray<Problem> Problems => InOrder(problems);

    public ImmutableArray<Problem> Warnings => InOrder(warnings);

    public void Problem(Place place, string path, string found, string accepted, string? suggestion = null)
    {
        // A default that was computed from a value with a problem would only say the same again.
        if (place == ReadContext.DefaultPlace && Any)
        {
            return;
        }

        problems.Add(new Problem(place.File, place.Line, place.Column, path, found, accepted, suggestion));
    }

    public void Warning(Place place, string path, string found, string accepted, string? suggestion = null) =>
        warnings.Add(new Problem(place.File, place.Line, place.Column, path, found, accepted, suggestion));

    // As one reads the file: by line and column; sources without lines (overrides) come first, in the order they were given.
    private static ImmutableArray<Problem> InOrder(List<Problem> list) =>
        [.. list.Distinct().OrderBy(p => p.Line).ThenBy(p => p.Column)];
}
