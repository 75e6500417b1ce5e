using System.Text.RegularExpressions;

namespace CureSim.Scenarios;

/// <summary>A header of a log taken apart: plain words and a unit, wherever it stands.</summary>
/// <param name="Name">Lower case, words parted by single spaces, without unit.</param>
/// <param name="Whole">The same with what stands in brackets, where that is no unit: "reading (as found)" is "reading as found".</param>
/// <param name="Unit">Its unit; null for none that is known.</param>
/// <param name="Written">What stands in brackets or after a stroke as a unit and is none that is known; null for none.</param>
internal sealed partial record LogHeader(string Name, string Whole, SampleUnit? Unit, string? Written)
{
    private static readonly string[] HourWords = ["h", "hr", "hrs", "hour", "hours"];

    /// <summary>True when the name itself counts hours: "lamp hours".</summary>
    public bool CountsHours => Name.Split(' ').Any(HourWords.Contains);

    /// <summary>Takes a header apart: "UV [mW/cm²]", "irradiance mW/cm2", "irradiance / mW/cm²", "run time (h)", "irradiance_w_per_cm2".</summary>
    public static LogHeader Of(string header)
    {
        string text = SampleText.OneLine(header).Trim();
        if (SampleUnit.AtEnd(text) is { } end)
        {
            return new(Plain(end.Name), Plain(end.Name), end.Unit, null);
        }

        if (Bracket().Match(text) is not { Success: true } bracket)
        {
            var (rest, bare) = WithoutUnit(text);
            return new(Plain(rest), Plain(rest), bare, null);
        }

        string content = bracket.Groups["unit"].Value.Trim(), without = text.Remove(bracket.Index, bracket.Length);
        if (UnitOf(content) is { } unit)
        {
            return new(Plain(without), Plain(without), unit, null);
        }

        var (name, first) = WithoutUnit(without);
        var (whole, second) = WithoutUnit(text.Replace('(', ' ').Replace(')', ' ').Replace('[', ' ').Replace(']', ' '));
        return new(Plain(name), Plain(whole), first ?? second, first is null && second is null ? content : null);
    }

    // A unit without brackets: a word such as "mW/cm2" anywhere, a time at the end only, where it is no word of a name.
    private static (string Text, SampleUnit? Unit) WithoutUnit(string text)
    {
        string[] words = text.Replace(',', ' ').Split(' ', StringSplitOptions.RemoveEmptyEntries);
        string Rest(int i) => string.Join(' ', words.Where((w, k) => k != i && !(k == i - 1 && w is "/" or "in")));
        for (int i = 0; i < words.Length; i++)
        {
            string word = words[i].TrimEnd('.');
            if ((word.Contains('/', StringComparison.Ordinal) || word is "%") && UnitOf(word) is { } unit)
            {
                return (Rest(i), unit);
            }

            if (i > 0 && i == words.Length - 1 && word.ToLowerInvariant() is "h" or "hr" or "hrs")
            {
                return (Rest(i), SampleUnit.Find("h"));
            }
        }

        return (text, null);
    }

    /// <summary>Lower case, words parted by single spaces; "number", "nr" and "#" are "no".</summary>
    public static string Plain(string text) => string.Join(' ', text.ToLowerInvariant().Replace("#", " no ", StringComparison.Ordinal).Split([' ', '_', '-', '.', '/', '\\', ',', ':', '(', ')', '[', ']'], StringSplitOptions.RemoveEmptyEntries)
        .Select(w => w is "number" or "nr" or "num" or "№" ? "no" : w is "hrs" or "hr" ? "hours" : w));

    private static SampleUnit? UnitOf(string text) => HourWords.Contains(text.TrimEnd('.').ToLowerInvariant()) ? SampleUnit.Find("h") : SampleUnit.Find(text);

    [GeneratedRegex(@"[\[(](?<unit>[^\[\]()]+)[\])]")]
    private static partial Regex Bracket();
}
