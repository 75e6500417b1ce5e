namespace CureSim.Scenarios;

/// <summary>Lists in a resolved scenario what was left out, so that it reads back with the same origins.</summary>
internal static class ResolvedOrigins
{
    public static MapNode Put(MapNode root, IReadOnlyList<InputNote> inputs)
    {
        ListNode Paths(Origin origin) => new(
            [.. inputs.Where(i => i.Origin == origin && Holds(root, i.Path)).Select(i => new ScalarNode(i.Path, false, root.Place, Origin.Yours))], root.Place, Origin.Yours);

        var lists = new List<MapEntry>();
        foreach ((string name, Origin origin) in new[] { ("typical", Origin.Typical), ("default", Origin.Default) })
        {
            if (Paths(origin) is { Items.IsEmpty: false } paths)
            {
                lists.Add(new MapEntry(name, root.Place, paths));
            }
        }

        MapNode without = root.Without("origin");
        return lists.Count == 0 ? without : without.With("origin", root.Place, new MapNode([.. lists], root.Place, Origin.Yours));
    }

    // Blocks that are left out as a whole have a note but no value in the resolved text.
    private static bool Holds(MapNode root, string path)
    {
        ScenarioNode? node = root;
        foreach (string step in path.Split('.'))
        {
            node = node switch
            {
                MapNode map => map[step],
                ListNode list => list.Items.Index().FirstOrDefault(i => NameOf(i.Item) == step || (i.Index + 1).ToString(System.Globalization.CultureInfo.InvariantCulture) == step).Item,
                _ => null,
            };
        }

        return node is not null;
    }

    // Some lists have paths by name (disturbances), others by number (plans, routines), though their items have names too.
    private static string? NameOf(ScenarioNode item) => item is MapNode map && map["name"] is ScalarNode name ? name.Text : null;
}
