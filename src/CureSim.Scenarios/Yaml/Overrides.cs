using System.Collections.Immutable;
using System.Globalization;

namespace CureSim.Scenarios;

/// <summary>Puts <c>--set key=value</c> values into a scenario's tree.</summary>
/// <remarks>
/// The key is a dotted path ("source.replace_at"); an item of a list is named by its <c>name</c> or its number from 1.
/// The value is YAML; an empty value takes the key out, so that its default holds.
/// </remarks>
internal static class Overrides
{
    private const string Accepted = "key=value, such as \"source.replace_at=2000 h\"";

    public static MapNode Apply(MapNode root, IReadOnlyList<string> sets, Findings findings)
    {
        foreach (string set in sets)
        {
            int equals = set.IndexOf('=', StringComparison.Ordinal);
            string key = equals < 0 ? set.Trim() : set[..equals].Trim();
            Place place = Place.Of("--set " + key);
            if (equals < 0 || key.Length == 0 || key.Split('.').Any(s => s.Trim().Length == 0))
            {
                findings.Problem(place, "", $"\"{set}\"", Accepted);
                continue;
            }

            string text = set[(equals + 1)..].Trim();
            ScenarioNode? value = text.Length == 0 ? null : YamlTree.Read(text, place, Origin.Yours, findings);
            if (text.Length > 0 && value is null)
            {
                continue;
            }

            root = (MapNode)Put(root, key.Split('.'), 0, value, place, findings);
        }

        return root;
    }

    private static ScenarioNode Put(ScenarioNode node, string[] path, int depth, ScenarioNode? value, Place place, Findings findings)
    {
        string step = path[depth].Trim();
        bool last = depth == path.Length - 1;
        switch (node)
        {
            case MapNode map when last:
                return value is null ? map.Without(step) : map.With(step, place, value);
            case MapNode map:
                MapEntry? entry = map.Entry(step);
                ScenarioNode inner = entry?.Value ?? MapNode.Empty(place, Origin.Yours);
                return map.With(step, entry?.KeyPlace ?? place, Put(inner, path, depth + 1, value, place, findings));
            case ListNode list:
                int at = IndexOf(list, step);
                if (at < 0)
                {
                    string names = string.Join(", ", list.Items.Select((item, i) => NameOf(item) ?? (i + 1).ToString(CultureInfo.InvariantCulture)));
                    findings.Problem(place, string.Join('.', path[..depth]), $"no item \"{step}\"", names.Length == 0 ? "the list is empty" : names);
                    return list;
                }

                ImmutableArray<ScenarioNode> items = last
                    ? value is null ? list.Items.RemoveAt(at) : list.Items.SetItem(at, value)
                    : list.Items.SetItem(at, Put(list.Items[at], path, depth + 1, value, place, findings));
                return list with { Items = items };
            default:
                findings.Problem(
                    place, string.Join('.', path[..depth]), $"{node.Found}, which has no \"{step}\"", "a path to a value, or to a block that is written as one");
                return node;
        }
    }

    private static int IndexOf(ListNode list, string step)
    {
        for (int i = 0; i < list.Items.Length; i++)
        {
            if (NameOf(list.Items[i]) == step)
            {
                return i;
            }
        }

        return int.TryParse(step, NumberStyles.None, CultureInfo.InvariantCulture, out int number) && number >= 1 && number <= list.Items.Length
            ? number - 1
            : -1;
    }

    private static string? NameOf(ScenarioNode item) => item is MapNode map && map["name"] is ScalarNode name ? name.Text : null;
}
