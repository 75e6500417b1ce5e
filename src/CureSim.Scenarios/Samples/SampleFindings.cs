using System.Collections.Immutable;

namespace CureSim.Scenarios;

/// <summary>Problems of a file of measured values. A file may have one in each of a million rows: the first hundred are told, the rest counted.</summary>
internal sealed class SampleFindings(string file)
{
    private const int MostTold = 100;

    private readonly List<Problem> told = [];
    private int more;

    public bool Any => told.Count > 0;

    public ImmutableArray<Problem> Problems
    {
        get
        {
            ImmutableArray<Problem> sorted = [.. told.OrderBy(p => p.Line).ThenBy(p => p.Column)];
            return more == 0 ? sorted : sorted.Add(new Problem(
                file, 0, 0, "", FormattableString.Invariant($"{more} more problems that are not listed"), "a file without them", null));
        }
    }

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
