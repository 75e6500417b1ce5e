namespace CureSim.Cli;

/// <summary>Finds the command or option that was probably meant.</summary>
internal static class NearestName
{
    // In half edits: a letter left out or put in is a likelier slip than another letter in its place.
    private const int Gap = 2;
    private const int Swap = 3;

    /// <summary>The nearest of the known names, or null when more than about a third of the letters differ from each.</summary>
    public static string? Of(string given, IEnumerable<string> known) =>
        known.Select(name => (Name: name, Distance: Distance(given, name)))
            .Where(n => n.Distance <= Swap * Math.Max(1, Math.Max(given.Length, n.Name.Length) / 3))
            .OrderBy(n => n.Distance).Select(n => n.Name).FirstOrDefault();

    private static int Distance(string a, string b)
    {
        int[] row = [.. Enumerable.Range(0, b.Length + 1).Select(j => j * Gap)];
        for (int i = 1; i <= a.Length; i++)
        {
            int diagonal = row[0];
            row[0] = i * Gap;
            for (int j = 1; j <= b.Length; j++)
            {
                int above = row[j];
                row[j] = Math.Min(Math.Min(above, row[j - 1]) + Gap, diagonal + (a[i - 1] == b[j - 1] ? 0 : Swap));
                diagonal = above;
            }
        }

        return row[b.Length];
    }
}
