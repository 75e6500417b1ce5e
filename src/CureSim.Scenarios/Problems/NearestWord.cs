namespace CureSim.Scenarios;

/// <summary>Finds the known word that was probably meant.</summary>
internal static class NearestWord
{
    /// <summary>The nearest of <paramref name="known"/>, or null when none is near (more than a third of the letters differ).</summary>
    public static string? Of(string word, IEnumerable<string> known)
    {
        string? best = null;
        int least = int.MaxValue;
        foreach (string candidate in known)
        {
            int distance = Distance(Plain(word), Plain(candidate));
            int allowed = Math.Max(1, Math.Max(word.Length, candidate.Length) / 3);
            if (distance <= allowed && distance < least)
            {
                least = distance;
                best = candidate;
            }
        }

        return best;
    }

    /// <summary>The clause 'did you mean "…"?', or null.</summary>
    public static string? Question(string word, IEnumerable<string> known) =>
        Of(word, known) is { } near ? $"did you mean \"{near}\"?" : null;

    /// <summary>The clause for a key that is not known. One that starts with a digit is the rest of a number with a decimal comma, as a comma ends a value between braces.</summary>
    public static string? OfKey(string key, IEnumerable<string> known) =>
        key.Length > 0 && char.IsAsciiDigit(key[0]) ? "between { and } a comma ends a value: write decimals with a point" : Question(key, known);

    private static string Plain(string word) => word.ToLowerInvariant().Replace('-', '_').Replace(' ', '_');

    /// <summary>Edits (insert, delete, replace, swap of neighbours) between two words: optimal string alignment distance.</summary>
    internal static int Distance(string a, string b)
    {
        var d = new int[a.Length + 1, b.Length + 1];
        for (int i = 0; i <= a.Length; i++)
        {
            d[i, 0] = i;
        }

        for (int j = 0; j <= b.Length; j++)
        {
            d[0, j] = j;
        }

        for (int i = 1; i <= a.Length; i++)
        {
            for (int j = 1; j <= b.Length; j++)
            {
                int cost = a[i - 1] == b[j - 1] ? 0 : 1;
                d[i, j] = Math.Min(Math.Min(d[i - 1, j] + 1, d[i, j - 1] + 1), d[i - 1, j - 1] + cost);
                if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
                {
                    d[i, j] = Math.Min(d[i, j], d[i - 2, j - 2] + 1);
                }
            }
        }

        return d[a.Length, b.Length];
    }
}
