using System.Globalization;

namespace CureSim.Scenarios;

/// <summary>Says in words what a key accepts; the same words in messages, documentation and starting files.</summary>
internal static class KeyWords
{
    public static string Accepted(Key key) => Accepted(key.Shape);

    public static string Accepted(Shape shape) => shape switch
    {
        TextShape => "a text",
        ChoiceShape choice => Or(choice.Words.Select(w => $"\"{w}\"")),
        YesNoShape => "true or false",
        CountShape { Most: ulong.MaxValue } count => string.Create(CultureInfo.InvariantCulture, $"a whole number, {count.Least} or more"),
        CountShape count when count.Least == count.Most => string.Create(CultureInfo.InvariantCulture, $"the number {count.Least}"),
        CountShape count => string.Create(CultureInfo.InvariantCulture, $"a whole number from {count.Least} to {count.Most}"),
        ValueShape value => WithWords(value.Dimension.Accepted, value.Words),
        ValuesShape values => values.Dimension.Accepted + ", or a list of them",
        QuantityShape { Kind: QuantityKind.RelativeError } =>
            "a relative spread such as \"4 %\" (standard deviation), { U: 5 %, k: 2 }, { mpe: ±4 % } or a distribution",
        QuantityShape { Kind: QuantityKind.Deviation } deviation =>
            $"a distribution about 0 such as {{ normal: {{ sd: {SpreadExample(deviation.Dimension)} }} }}",
        QuantityShape quantity => WithWords(quantity.Dimension.Accepted, ["a distribution"], quantity.Words),
        BlockShape block => $"a block with {string.Join(", ", block.Table.Keys.Select(k => k.Name))}",
        LawShape law => WithWords($"one of {string.Join(", ", law.Laws.Select(l => l.Name))}{(law.Candidates ? ", candidates" : "")}", law.Words),
        ListShape { Item: TextShape } => "a list of texts",
        ListShape { Item: ChoiceShape choice } => $"a list of {Or(choice.Words.Select(w => $"\"{w}\""))}",
        ListShape { Item: ValueShape value } => $"a list of values, each {Accepted(value)}",
        ListShape { Item: BlockShape block } => $"a list of blocks with {string.Join(", ", block.Table.Keys.Select(k => k.Name))}",
        _ => throw new ArgumentOutOfRangeException(nameof(shape)),
    };

    /// <summary>"a, b or c".</summary>
    public static string Or(IEnumerable<string> words)
    {
        string[] all = [.. words];
        return all.Length <= 1 ? string.Concat(all) : string.Join(", ", all[..^1]) + " or " + all[^1];
    }

    private static string SpreadExample(Dimension dimension) =>
        ReferenceEquals(dimension, Dimension.Length) ? "0.2 mm" : ReferenceEquals(dimension, Dimension.Time) ? "5 ms" : dimension.Example;

    private static string WithWords(string accepted, params string[][] words)
    {
        string more = string.Concat(words.SelectMany(w => w).Select(w => w.StartsWith("a ", StringComparison.Ordinal) ? $", or {w}" : $", or \"{w}\""));
        return accepted + more;
    }
}
