using System.Collections.Immutable;
using System.Globalization;

namespace CureSim.Scenarios;

/// <content>Curves through points, written out or in a CSV file.</content>
internal sealed partial class CellReader
{
    // Points as pairs in SI; NaN where a value has a problem; empty when there are none.
    private List<(double X, double Y)> ReadPoints(BlockReader law, string key, string x, string y)
    {
        IReadOnlyList<ScenarioNode> items = law.Items(key);
        return ReadPoints(law, key, items, x, y);
    }

    private List<(double X, double Y)> ReadPoints(BlockReader law, string key, IReadOnlyList<ScenarioNode> items, string x, string y)
    {
        BlockTable table = ((BlockShape)((ListShape)law.Table[key].Shape).Item).Table;
        var points = new List<(double, double)>();
        var nodes = new List<Func<ScenarioNode>>();
        int firstNote = context.Inputs.Count;
        foreach ((int i, ScenarioNode item) in items.Index())
        {
            string path = string.Create(CultureInfo.InvariantCulture, $"{law.PathOf(key)}.{i + 1}");
            if (item is not MapNode map)
            {
                Findings.Problem(item.Place, path, item.Found, $"{{ {x}, {y} }}");
                points.Add((double.NaN, double.NaN));
                continue;
            }

            var point = new BlockReader(context, table, map, path);
            points.Add((point.Value(x), point.Value(y)));
            nodes.Add(point.Resolved);
        }

        // One note for the whole curve instead of two for each point.
        context.Inputs.RemoveRange(firstNote, context.Inputs.Count - firstNote);
        Origin origin = items.Count == 0 ? Origin.Yours : items[0].Place == ReadContext.DefaultPlace ? items[0].Origin : context.Origins.Of(law.PathOf(key));
        law.NoteInput(key, FormattableString.Invariant($"{items.Count} points"), origin);
        law.ResolveLater(key, () => new ListNode([.. nodes.Select(n => n())], default, Origin.Yours));
        return points;
    }

    private List<(double X, double Y)> ReadPointsOrCsv(BlockReader law, (string Column, string Name, Dimension Dimension) x, (string Column, string Name, Dimension Dimension) y)
    {
        if (!law.Written("csv"))
        {
            law.Skip("csv");
            law.Refuse(x.Column, "a column only with csv");
            law.Refuse(y.Column, "a column only with csv");
            return ReadPoints(law, "points", x.Name, y.Name);
        }

        law.Refuse("points", "points or csv, not both");
        ScalarNode? file = law.DataText("csv");
        ScalarNode? xColumn = law.DataText(x.Column);
        ScalarNode? yColumn = law.DataText(y.Column);
        if (file is null || xColumn is null || yColumn is null)
        {
            return [];
        }

        ListNode[]? columns = new CsvColumns(context).Read(file, [(xColumn, x.Dimension, null), (yColumn, y.Dimension, null)], law.Path);
        if (columns is null)
        {
            return [];
        }

        ImmutableArray<ScenarioNode> items =
        [
            .. columns[0].Items.Zip(columns[1].Items, (a, b) =>
                (ScenarioNode)new MapNode([new MapEntry(x.Name, a.Place, a), new MapEntry(y.Name, b.Place, b)], a.Place, Origin.Yours)),
        ];
        return ReadPoints(law, "points", items, x.Name, y.Name);
    }

    private static string? Fault(List<(double X, double Y)> points, bool mustFall)
    {
        for (int i = 1; i < points.Count; i++)
        {
            if (!(points[i].X > points[i - 1].X) || (mustFall && points[i].Y > points[i - 1].Y))
            {
                return FormattableString.Invariant($"point {i + 1} that is out of order");
            }
        }

        return null;
    }
}
