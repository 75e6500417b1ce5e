using System.Collections.Immutable;

namespace CureSim.Scenarios;

/// <summary>Problems of a file of measured values. A file may have one in each of a million rows: the first hundred are told, the rest counted.</summary>
internal sealed class SampleFindings(string file)
{
    private const int MostTold = 100;

    private readonly List<Problem> told = [];
    private readonly SortedDictionary<int, Commas> commas = [];
    private int more;

    public bool Any => told.Count > 0 || commas.Count > 0;

    public ImmutableArray<Problem> Problems
    {
        get
        {
            ImmutableArray<Problem> sorted = [.. told.Concat(commas.Select(c => OfCommas(c.Key, c.Value))).OrderBy(p => p.Line).ThenBy(p => p.Column)];
            return more == 0 ? sorted : sorted.Add(new Problem(
                file, 0, 0, "", FormattableString.Invariant($"{more} more problems that are not listed"), "a file without them", null));
        }
    }

    /// <summary>A number with a decimal comma: a spreadsheet writes a whole column so, which is one mistake and is told once, at its first number.</summary>
    public void AddComma(int line, int column, string path, string cell, string accepted) =>
        commas[column] = commas.TryGetValue(column, out var first) ? first with { Count = first.Count + 1 } : new(line, path, cell, accepted, 1);

    private Problem OfCommas(int column, Commas found)
    {
        string shown = $"\"{SampleText.Shown(found.Cell)}\"", point = found.Cell.Replace(',', '.');
        string others = found.Count == 1 ? "" : FormattableString.Invariant($", and {found.Count - 1} more with a decimal comma in this column");
        string remedy = found.Count == 1 ? $"did you mean \"{point}\"?"
            : $"did you mean \"{point}\"? Save the file with decimal points, or replace the commas of the numbers by points";
        return new(file, found.Line, column, SampleText.OneLine(found.Path), SampleText.OneLine(shown + others), SampleText.OneLine(found.Accepted), SampleText.OneLine(remedy));
    }

    private sealed record Commas(int Line, string Path, string Cell, string Accepted, int Count);

    /// <summary>Any other problem, at its place.</summary>
    public void Add(int line, int column, string path, string found, string accepted, string? suggestion = null)
    {
        if (told.Count >= MostTold)
        {
            more++;
            return;
        }

        told.Add(new Problem(file, line, column, SampleText.OneLine(path), SampleText.OneLine(found), SampleText.OneLine(accepted), suggestion is null ? null : SampleText.OneLine(suggestion)));
    }
}
