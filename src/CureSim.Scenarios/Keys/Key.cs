using System.Collections.Immutable;
using CureSim.Core.Cell;

namespace CureSim.Scenarios;

/// <summary>Text that a key has when it is left out.</summary>
/// <param name="Variant">The block's kind for which it holds; null: for any.</param>
/// <param name="Text">YAML, as a user would write it.</param>
/// <param name="Origin">Default or typical.</param>
internal sealed record KeyDefault(string? Variant, string Text, Origin Origin);

/// <summary>One key of the scenario format: the row of the one table that drives reader, schema, documentation and starting files.</summary>
internal sealed record Key(string Name, Shape Shape, string Meaning)
{
    /// <summary>Values taken when it is left out, the first that fits the block's kind.</summary>
    public ImmutableArray<KeyDefault> Defaults { get; init; } = [];

    /// <summary>In words, when the default is computed from other keys, or what leaving a block out means; else null.</summary>
    public string? WhenLeftOut { get; init; }

    /// <summary>A value as a user might write it.</summary>
    public string? Sample { get; init; }

    /// <summary>True when it must be written whatever the kind.</summary>
    public bool Required => Defaults.IsEmpty && WhenLeftOut is null;

    public KeyDefault? DefaultFor(string variant) => Defaults.FirstOrDefault(d => d.Variant is null || d.Variant == variant);

    public static Key Text(string name, string meaning) => new(name, new TextShape(), meaning);

    public static Key Choice(string name, string[] words, string meaning) => new(name, new ChoiceShape(words), meaning);

    public static Key YesNo(string name, string meaning) => new(name, new YesNoShape(), meaning);

    public static Key Count(string name, ulong least, ulong most, string meaning) => new(name, new CountShape(least, most), meaning);

    public static Key Value(string name, Dimension dimension, Bounds bounds, string meaning, params string[] words) =>
        new(name, new ValueShape(dimension, bounds, words), meaning);

    public static Key Values(string name, Dimension dimension, Bounds bounds, string meaning) =>
        new(name, new ValuesShape(dimension, bounds), meaning);

    public static Key Quantity(string name, Dimension dimension, Level level, Bounds bounds, string meaning, params string[] words) =>
        new(name, new QuantityShape(dimension, level, bounds, QuantityKind.Value, words), meaning);

    public static Key Deviation(string name, Dimension dimension, Level level, string meaning) =>
        new(name, new QuantityShape(dimension, level, Bounds.Any, QuantityKind.Deviation, []), meaning);

    public static Key RelativeError(string name, Level level, string meaning) =>
        new(name, new QuantityShape(Dimension.Ratio, level, Bounds.Any, QuantityKind.RelativeError, []), meaning);

    public static Key Block(BlockTable table) => new(table.Name, new BlockShape(table), table.Meaning);

    public static Key Law(string name, string meaning, BlockTable[] laws, params string[] words) => new(name, new LawShape(laws, words, false), meaning);

    public static Key LawOrCandidates(string name, string meaning, BlockTable[] laws) => new(name, new LawShape(laws, [], true), meaning);

    public static Key List(string name, Shape item, string meaning) => new(name, new ListShape(item), meaning);

    /// <summary>With the value that means 'nothing unusual'.</summary>
    public Key Else(string text) => this with { Defaults = Defaults.Add(new KeyDefault(null, text, Origin.Default)) };

    /// <summary>With a value typical of the trade.</summary>
    public Key Typically(string text) => this with { Defaults = Defaults.Add(new KeyDefault(null, text, Origin.Typical)) };

    /// <summary>With a value typical of one kind of the block.</summary>
    public Key Typically(string variant, string text) => this with { Defaults = Defaults.Add(new KeyDefault(variant, text, Origin.Typical)) };

    /// <summary>May be left out; what that means.</summary>
    public Key LeftOut(string meaning) => this with { WhenLeftOut = meaning };

    /// <summary>With a value as a user might write it.</summary>
    public Key Such(string sample) => this with { Sample = sample };
}
