namespace CureSim.Scenarios;

/// <content>Blocks, laws and lists.</content>
internal sealed partial class BlockReader
{
    /// <summary>A block inside this one; null when it may be left out and is. After a problem: an empty block.</summary>
    public BlockReader? Block(string key)
    {
        BlockTable table = ((BlockShape)Table[key].Shape).Table;
        ScenarioNode? value = Take(key);
        if (value is null)
        {
            if (!Written(key) && Table[key].WhenLeftOut is { } meaning)
            {
                Note(key, $"({meaning})", null, "", Origin.Default);
            }

            return null;
        }

        if (value is not MapNode map)
        {
            WrongKind(key, value);
            return null;
        }

        return Open(key, table, map);
    }

    /// <summary>A block whose keys all have defaults: read from nothing when it is left out.</summary>
    public BlockReader BlockOrDefaults(string key)
    {
        BlockTable table = ((BlockShape)Table[key].Shape).Table;
        ScenarioNode? value = Written(key) ? Take(key) : null;
        asked.Add(key);
        if (value is not (null or MapNode))
        {
            WrongKind(key, value);
        }

        return Open(key, table, value as MapNode ?? MapNode.Empty(ReadContext.DefaultPlace, Origin.Default));
    }

    /// <summary>The law that is named, its parameters; or the word in its place. All null after a problem.</summary>
    public (string? Name, BlockReader? Parameters, ListNode? Candidates) Law(string key)
    {
        var shape = (LawShape)Table[key].Shape;
        ScenarioNode? value = Take(key);
        switch (value)
        {
            case null:
                return default;
            case ScalarNode word when shape.Words.Contains(word.Text):
                Note(key, word.Text, null, "", value.Origin);
                Resolve(key, word);
                return (word.Text, null, null);
            case ScalarNode word:
                Findings.Problem(
                    word.Place, PathOf(key), word.Found, KeyWords.Accepted(shape),
                    NearestWord.Question(word.Text, [.. shape.Words, .. shape.Laws.Select(l => l.Name)]));
                return default;
            case MapNode map:
                return LawIn(key, shape, map);
            default:
                WrongKind(key, value);
                return default;
        }
    }

    private (string? Name, BlockReader? Parameters, ListNode? Candidates) LawIn(string key, LawShape shape, MapNode map)
    {
        MapEntry? entry = OneLaw(map, PathOf(key), shape, []);
        if (entry is null)
        {
            return default;
        }

        if (entry.Key == "candidates")
        {
            if (entry.Value is ListNode { Items.IsEmpty: false } list)
            {
                return ("candidates", null, list);
            }

            Findings.Problem(entry.Value.Place, PathOf(key) + ".candidates", entry.Value.Found, "a list of { weight, law } with at least one law");
            return default;
        }

        BlockReader? law = OpenLaw(shape, entry, PathOf(key));
        if (law is null)
        {
            return default;
        }

        resolved.Add((key, () => new MapNode([new MapEntry(entry.Key, entry.KeyPlace, law.Resolved())], map.Place, map.Origin)));
        return (entry.Key, law, null);
    }

    /// <summary>The one law of a map, leaving aside the keys in <paramref name="besides"/>.</summary>
    public MapEntry? OneLaw(MapNode map, string path, LawShape shape, string[] besides)
    {
        Context.Remember(path, map);
        string[] names = [.. shape.Laws.Select(l => l.Name), .. (shape.Candidates ? ["candidates"] : Array.Empty<string>())];
        bool known = true;
        foreach (MapEntry stranger in map.Entries.Where(e => !names.Contains(e.Key) && !besides.Contains(e.Key)))
        {
            known = false;
            Findings.Problem(
                stranger.KeyPlace, path, $"the unknown key \"{stranger.Key}\"", string.Join(", ", names), NearestWord.OfKey(stranger.Key, names));
        }

        MapEntry[] laws = [.. map.Entries.Where(e => names.Contains(e.Key))];
        if (laws.Length != 1 && known)
        {
            Findings.Problem(
                map.Place, path, laws.Length == 0 ? "no law" : string.Join(" and ", laws.Select(l => l.Key)), $"exactly one of {string.Join(", ", names)}");
        }

        return laws.Length == 1 ? laws[0] : null;
    }

    /// <summary>Opens a law's parameters; null (and a problem) when they are no block.</summary>
    public BlockReader? OpenLaw(LawShape shape, MapEntry entry, string path)
    {
        BlockTable table = shape.Laws.First(l => l.Name == entry.Key);
        if (entry.Value is MapNode parameters)
        {
            return new BlockReader(Context, table, parameters, $"{path}.{table.Name}");
        }

        Findings.Problem(entry.Value.Place, $"{path}.{table.Name}", entry.Value.Found, $"a block with {string.Join(", ", table.Keys.Select(k => k.Name))}");
        return null;
    }

    /// <summary>Items of a list, each with its place in the list; empty when left out or after a problem.</summary>
    public IReadOnlyList<ScenarioNode> Items(string key, bool optional = false)
    {
        ScenarioNode? value = Take(key, optional);
        switch (value)
        {
            case null:
                return [];
            case ListNode list:
                return list.Items;
            default:
                WrongKind(key, value);
                return [];
        }
    }

    /// <summary>Puts a finished value into the resolved block.</summary>
    public void ResolveLater(string key, Func<ScenarioNode> value) => resolved.Add((key, value));

    /// <summary>Notes an input of this block.</summary>
    public void NoteInput(string key, string text, Origin origin) => Note(key, text, null, "", origin);

    private BlockReader Open(string key, BlockTable table, MapNode map)
    {
        var block = new BlockReader(Context, table, map, PathOf(key));
        resolved.Add((key, block.Resolved));
        return block;
    }
}
