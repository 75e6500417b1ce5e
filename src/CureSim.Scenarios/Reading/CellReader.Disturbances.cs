using System.Collections.Immutable;
using System.Globalization;
using CureSim.Core.Cell;

namespace CureSim.Scenarios;

/// <content>Disturbances.</content>
internal sealed partial class CellReader
{
    private ImmutableArray<Disturbance> ReadDisturbances(BlockReader blocks)
    {
        IReadOnlyList<ScenarioNode> items = blocks.Items("disturbances", optional: true);
        if (items.Count == 0)
        {
            if (!blocks.Written("disturbances"))
            {
                blocks.NoteInput("disturbances", "(none)", Origin.Default);
            }

            return [];
        }

        var disturbances = new List<Disturbance>();
        var nodes = new List<BlockReader>();
        foreach ((int i, ScenarioNode item) in items.Index())
        {
            if (item is not MapNode map)
            {
                Findings.Problem(item.Place, string.Create(CultureInfo.InvariantCulture, $"disturbances.{i + 1}"), item.Found, "a block with name, rate, cleared_by ...");
                continue;
            }

            // The name stands in the path, so that streams follow the disturbance and not its place in the list.
            string name = map["name"] is ScalarNode { IsEmpty: false } text ? text.Text : string.Create(CultureInfo.InvariantCulture, $"{i + 1}");
            var block = new BlockReader(context, CheckKeys.Disturbance, map, "disturbances." + name);
            block.Text("name");
            if (name.Contains('.', StringComparison.Ordinal))
            {
                block.Problem("name", $"\"{name}\"", "a name without dots");
            }

            if (disturbances.Any(d => d.Name == name))
            {
                block.Problem("name", $"the name \"{name}\" a second time", "a name of its own for each disturbance");
            }

            disturbances.Add(ReadDisturbance(block, name));
            nodes.Add(block);
        }

        blocks.ResolveLater("disturbances", () => new ListNode([.. nodes.Select(n => n.Resolved())], items[0].Place, Origin.Yours));
        return [.. disturbances];
    }

    private static Disturbance ReadDisturbance(BlockReader block, string name)
    {
        bool wholeCell = block.Choice("acts_on") == "cell";
        Quantity rate = block.Quantity("rate");
        Quantity? factor = block.QuantityOrNone("factor");
        Quantity? distance = block.QuantityOrNone("distance");
        Quantity? aim = block.QuantityOrNone("aim");
        if (factor is null && distance is null && aim is null)
        {
            block.Problem("name", "a disturbance without effect", "at least one of factor, distance, aim");
        }

        return new Disturbance(
            name, block.Path, wholeCell, rate, factor, distance, aim, Words.ClearedBy(block.Choice("cleared_by")),
            block.Value("by_check"), block.Value("by_cleaning"), block.Value("by_replacement"));
    }
}
