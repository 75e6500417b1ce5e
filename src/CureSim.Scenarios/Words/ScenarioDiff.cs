using System.Collections.Immutable;
using System.Text;

namespace CureSim.Scenarios;

/// <summary>One input that two scenarios do not share.</summary>
/// <param name="Path">Its path.</param>
/// <param name="First">Its text in the first; null where it has none.</param>
/// <param name="Second">Its text in the second; null where it has none.</param>
/// <param name="FirstOrigin">Origin in the first.</param>
/// <param name="SecondOrigin">Origin in the second.</param>
/// <param name="Meaning">What the input is.</param>
public sealed record InputDifference(string Path, string? First, string? Second, Origin? FirstOrigin, Origin? SecondOrigin, string Meaning);

/// <summary>What differs between two scenarios, input by input, those left out included.</summary>
public static class ScenarioDiff
{
    /// <summary>Differences in the order of the format. The same text with another origin is no difference.</summary>
    public static ImmutableArray<InputDifference> Compare(ScenarioReading first, ScenarioReading second)
    {
        var firsts = first.Inputs.ToDictionary(i => i.Path);
        var seconds = second.Inputs.ToDictionary(i => i.Path);
        return
        [
            .. InOrder(first.Inputs, second.Inputs)
                .Select(path => (Path: path, First: firsts.GetValueOrDefault(path), Second: seconds.GetValueOrDefault(path)))
                .Where(p => p.First?.Text != p.Second?.Text)
                .Select(p => new InputDifference(
                    p.Path, p.First?.Text, p.Second?.Text, p.First?.Origin, p.Second?.Origin, (p.First ?? p.Second)!.Meaning)),
        ];
    }

    /// <summary>The differences as aligned plain text.</summary>
    public static string Describe(IReadOnlyList<InputDifference> differences)
    {
        if (differences.Count == 0)
        {
            return "no differences\n";
        }

        var text = new StringBuilder();
        foreach (InputDifference d in differences)
        {
            text.Append(d.Path).Append('\n');
            text.Append("  first   ").Append(One(d.First, d.FirstOrigin)).Append('\n');
            text.Append("  second  ").Append(One(d.Second, d.SecondOrigin)).Append('\n');
        }

        return text.ToString();
    }

    private static string One(string? text, Origin? origin) =>
        text is null ? "-" : origin == Origin.Yours ? text : $"{text}   ({origin!.Value.ToString().ToLowerInvariant()})";

    // The order of the first; what only the second has follows the path before it there.
    private static List<string> InOrder(ImmutableArray<InputNote> first, ImmutableArray<InputNote> second)
    {
        List<string> order = [.. first.Select(i => i.Path)];
        string? before = null;
        foreach (InputNote input in second)
        {
            if (!order.Contains(input.Path))
            {
                order.Insert(before is null ? 0 : order.IndexOf(before) + 1, input.Path);
            }

            before = input.Path;
        }

        return order;
    }
}
