using System.Collections.Immutable;

namespace CureSim.Scenarios;

/// <summary>
/// Reads one block by its key table: what is written, else the default; notes every input; collects the resolved block.
/// After a problem a value is NaN, so that reading goes on and finds the others.
/// </summary>
internal sealed partial class BlockReader
{
    private readonly MapNode node;
    private readonly List<(string Key, Func<ScenarioNode> Node)> resolved = [];
    private readonly HashSet<string> asked = [];

    /// <param name="context">Shared by all blocks.</param>
    /// <param name="table">Keys of this block.</param>
    /// <param name="node">As written.</param>
    /// <param name="path">Its path; empty for the root.</param>
    /// <param name="alsoKnown">Keys that another reader takes from the same map.</param>
    public BlockReader(ReadContext context, BlockTable table, MapNode node, string path, params string[] alsoKnown)
    {
        Context = context;
        Table = table;
        Path = path;
        this.node = node;
        context.Remember(path, node);
        context.Unread.Add(() => table.Keys.Where(k => !asked.Contains(k.Name)).Select(k => PathOf(k.Name)));
        string[] known = [.. table.Keys.Select(k => k.Name), .. alsoKnown];
        foreach (MapEntry entry in node.Entries.Where(e => !known.Contains(e.Key)))
        {
            context.Findings.Problem(
                entry.KeyPlace, path, $"the unknown key \"{entry.Key}\"", known.Length == 0 ? "no keys" : string.Join(", ", known),
                NearestWord.OfKey(entry.Key, known));
        }
    }

    public ReadContext Context { get; }

    public BlockTable Table { get; }

    public string Path { get; }

    /// <summary>Kind of the block, on which defaults may depend.</summary>
    public string Variant { get; set; } = "";

    private Findings Findings => Context.Findings;

    public string PathOf(string key) => Path.Length == 0 ? key : Path + "." + key;

    /// <summary>True when the key is written.</summary>
    public bool Written(string key)
    {
        _ = Table[key];
        return node.Entry(key) is not null;
    }

    /// <summary>The written text of a single value, or null; to serve as the default of another key.</summary>
    public string? TextOf(string key) => (node[key] as ScalarNode)?.Text is { Length: > 0 } text ? text : Table[key].DefaultFor(Variant)?.Text;

    /// <summary>Says that a key has no place here, if it is written.</summary>
    public void Refuse(string key, string accepted)
    {
        asked.Add(Table[key].Name);
        if (node.Entry(key) is { } entry)
        {
            Findings.Problem(entry.KeyPlace, PathOf(key), entry.Value.Found, accepted);
        }
    }

    /// <summary>Says that a key which is left out is not needed here.</summary>
    public void Skip(string key) => asked.Add(Table[key].Name);

    /// <summary>Notes a problem at a key's value.</summary>
    public void Problem(string key, string found, string accepted, string? suggestion = null) =>
        Findings.Problem(Context.PlaceOf(PathOf(key)), PathOf(key), found, accepted, suggestion);

    /// <summary>Notes that the block lacks something when it holds no key but <paramref name="besides"/>.</summary>
    public void NeedsMoreThan(string besides, string accepted)
    {
        if (node.Entries.All(e => e.Key == besides))
        {
            Findings.Problem(node.Place, Path, "nothing", accepted);
        }
    }

    /// <summary>The block with everything that was left out written out.</summary>
    public MapNode Resolved() => new(
        [.. resolved.Select(r => new MapEntry(r.Key, node.Place, r.Node()))], node.Place, node.Origin);

    // The written value, else the fallback, else the default of the table; null (and a problem, unless optional) when there is none.
    private ScenarioNode? Take(string key, bool optional = false, string? fallback = null, Origin fallbackOrigin = Origin.Default)
    {
        Key row = Table[key];
        asked.Add(key);
        ScenarioNode? value = node[key];
        if (value is ScalarNode { IsEmpty: true })
        {
            Findings.Problem(
                value.Place, PathOf(key), "nothing", KeyWords.Accepted(row),
                row.Shape is BlockShape ? "write {} for a block with the defaults of its keys, or take the key out" : null);
            Context.Remember(PathOf(key), value);
            return null;
        }

        if (value is not null)
        {
            // A default's own parameters keep the default's origin.
            value = value.Place == ReadContext.DefaultPlace ? value : value with { Origin = Context.Origins.Of(PathOf(key)) };
            Context.Remember(PathOf(key), value);
            return value;
        }

        if (fallback is not null)
        {
            return ReadContext.NodeOf(fallback, fallbackOrigin);
        }

        if (row.DefaultFor(Variant) is { } left)
        {
            return ReadContext.NodeOf(left.Text, left.Origin);
        }

        if (!optional && !(row.Shape is BlockShape && row.WhenLeftOut is not null))
        {
            string needed = KeyWords.Accepted(row);
            Findings.Problem(Context.PlaceOf(Path), PathOf(key), "nothing", needed, row.Sample is null ? null : $"write \"{key}: {row.Sample}\"");
        }

        return null;
    }

    private void Resolve(string key, ScenarioNode value) => resolved.Add((key, () => value));

    private void Note(string key, string text, Core.Cell.Level? level, string unit, Origin origin)
    {
        // The format's version and the cell's name are no inputs.
        if (Path.Length > 0 || Table[key].Shape is not (CountShape or TextShape))
        {
            Context.Inputs.Add(new InputNote(PathOf(key), text, level, unit, origin, Table[key].Meaning));
        }
    }

    private void WrongKind(string key, ScenarioNode value) =>
        Findings.Problem(value.Place, PathOf(key), value.Found, KeyWords.Accepted(Table[key]));
}
