using System.Text.RegularExpressions;

namespace CureSim.Reports.Text;

/// <summary>A value of a scenario as people say it: "{ normal: { mean: 6.4 W/cm2, sd: 5 % } }" becomes "normal, mean 6.4 W/cm², standard deviation 5 %".</summary>
internal static partial class ValueWords
{
    private const int Deepest = 8; // no value of the format is deeper; a stranger's text is left as it is

    /// <summary>The words; the text itself when it is no value of the format.</summary>
    public static string Of(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        string trimmed = text.Trim();
        if (trimmed is not ['{' or '[', ..])
        {
            return Plain(trimmed);
        }

        int at = 0;
        return Flow(trimmed, ref at, 0) is { } words && at == trimmed.Length ? words : text;
    }

    private static string? Flow(string text, ref int at, int depth)
    {
        if (depth > Deepest)
        {
            return null;
        }

        Space(text, ref at);
        return at < text.Length ? text[at] switch { '{' => Map(text, ref at, depth), '[' => List(text, ref at, depth), _ => Plain(Scalar(text, ref at)) } : null;
    }

    private static string? Map(string text, ref int at, int depth)
    {
        var parts = new List<(string Key, string Value, bool IsBlock)>();
        at++;
        for (; ; )
        {
            Space(text, ref at);
            if (at < text.Length && text[at] == '}')
            {
                at++;
                return Said(parts);
            }

            int colon = text.IndexOf(':', at);
            if (colon < 0 || text[at..colon].AsSpan().IndexOfAny("{}[],") >= 0)
            {
                return null;
            }

            string key = text[at..colon].Trim();
            at = colon + 1;
            Space(text, ref at);
            bool block = at < text.Length && text[at] is '{' or '[';
            if (Flow(text, ref at, depth + 1) is not { } value)
            {
                return null;
            }

            parts.Add((key, value, block));
            Space(text, ref at);
            if (at < text.Length && text[at] == ',')
            {
                at++;
            }
        }
    }

    private static string? List(string text, ref int at, int depth)
    {
        var items = new List<string>();
        at++;
        for (; ; )
        {
            Space(text, ref at);
            if (at < text.Length && text[at] == ']')
            {
                at++;
                return string.Join("; ", items);
            }

            int before = at;
            if (Flow(text, ref at, depth + 1) is not { } item || at == before)
            {
                return null;
            }

            items.Add(item);
            Space(text, ref at);
            if (at < text.Length && text[at] == ',')
            {
                at++;
            }
        }
    }

    private static string Said(List<(string Key, string Value, bool IsBlock)> parts)
    {
        string? from = parts.FirstOrDefault(p => p.Key == "from").Value, to = parts.FirstOrDefault(p => p.Key == "to").Value;
        var said = new List<string>();
        foreach (var (key, value, block) in parts)
        {
            if (from is not null && to is not null && key is "from" or "to")
            {
                if (key == "from")
                {
                    said.Add($"from {from} to {to}");
                }
            }
            else if (key is "U" or "k")
            {
                said.Add($"{key} = {value}");
            }
            else
            {
                said.Add(block ? $"{Word(key)}{(key is "unknown" or "unknown_factor" ? ":" : ",")} {value}" : $"{Word(key)} {value}");
            }
        }

        return string.Join(", ", said);
    }

    private static string Word(string key) => key switch
    {
        "sd" => "standard deviation",
        "gsd" => "geometric standard deviation",
        "mpe" => "maximum permissible error",
        "csv" => "file",
        _ => key.Replace('_', ' '),
    };

    // Commas and braces within brackets or quotes belong to the text.
    private static string Scalar(string text, ref int at)
    {
        int from = at, round = 0;
        bool quoted = false;
        for (; at < text.Length; at++)
        {
            char c = text[at];
            quoted ^= c == '"';
            round += quoted ? 0 : c == '(' ? 1 : c == ')' ? -1 : 0;
            if (!quoted && round <= 0 && c is ',' or '}' or ']')
            {
                break;
            }
        }

        return text[from..at].Trim();
    }

    private static void Space(string text, ref int at)
    {
        while (at < text.Length && text[at] == ' ')
        {
            at++;
        }
    }

    private static string Plain(string text) => text switch
    {
        "true" => "yes",
        "false" => "no",
        _ => Steps().Replace(text, "($1)").Replace("/cm2", "/cm²", StringComparison.Ordinal).Replace(" deg", "°", StringComparison.Ordinal).Replace(" um", " µm", StringComparison.Ordinal),
    };

    // "1 week (= 10 steps, 80 h)": steps are the simulation's affair.
    [GeneratedRegex(@"\(= [\d\s,.]+ steps?, ([^)]*)\)", RegexOptions.CultureInvariant, 1000)]
    private static partial Regex Steps();
}
