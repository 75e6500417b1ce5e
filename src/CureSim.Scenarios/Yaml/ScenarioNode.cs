using System.Collections.Immutable;

namespace CureSim.Scenarios;

/// <summary>Text of a scenario as written: a scalar, a map or a list, with its place. Does nothing.</summary>
internal abstract record ScenarioNode(Place Place, Origin Origin)
{
    /// <summary>What it is, for a message.</summary>
    public abstract string Found { get; }
}

/// <summary>One word, number or value with unit.</summary>
internal sealed record ScalarNode(string Text, bool Quoted, Place Place, Origin Origin) : ScenarioNode(Place, Origin)
{
    /// <summary>True when a key has nothing after it.</summary>
    public bool IsEmpty => !Quoted && Text is "" or "~" or "null";

    public override string Found => IsEmpty ? "nothing" : $"\"{Shortened}\"";

    private string Shortened => Text.Length <= 60 ? Text : string.Concat(Text.AsSpan(0, 57), "...");
}

/// <summary>Keys with values, in the order written.</summary>
internal sealed record MapNode(ImmutableArray<MapEntry> Entries, Place Place, Origin Origin) : ScenarioNode(Place, Origin)
{
    public override string Found => Entries.IsEmpty ? "{}" : $"a block with {string.Join(", ", Entries.Select(e => e.Key).Take(6))}";

    public static MapNode Empty(Place place, Origin origin) => new([], place, origin);

    public MapEntry? Entry(string key) => Entries.FirstOrDefault(e => e.Key == key);

    public ScenarioNode? this[string key] => Entry(key)?.Value;

    /// <summary>This map with one value put in place of, or after, the others.</summary>
    public MapNode With(string key, Place keyPlace, ScenarioNode value)
    {
        int at = Entries.ToList().FindIndex(e => e.Key == key);
        var entry = new MapEntry(key, keyPlace, value);
        return this with { Entries = at < 0 ? Entries.Add(entry) : Entries.SetItem(at, entry) };
    }

    public MapNode Without(string key) => this with { Entries = Entries.RemoveAll(e => e.Key == key) };
}

/// <summary>One key of a map.</summary>
internal sealed record MapEntry(string Key, Place KeyPlace, ScenarioNode Value);

/// <summary>Items in order.</summary>
internal sealed record ListNode(ImmutableArray<ScenarioNode> Items, Place Place, Origin Origin) : ScenarioNode(Place, Origin)
{
    public override string Found => Items.IsEmpty ? "an empty list" : $"a list of {Items.Length}";
}
