using System.Globalization;
using CureSim.Core.Distributions;

namespace CureSim.Scenarios;

/// <content>Distributions that list their values.</content>
internal sealed partial class DistributionReader
{
    private IDistribution? Discrete(ScenarioNode node, string path)
    {
        const string accepted = "a list of { value, weight }";
        if (node is not ListNode { Items.IsEmpty: false } list)
        {
            Findings.Problem(node.Place, path, node.Found, accepted);
            return null;
        }

        var values = new List<(double Value, double Weight)>();
        bool bad = false;
        foreach ((int i, ScenarioNode item) in list.Items.Index())
        {
            string where = string.Create(CultureInfo.InvariantCulture, $"{path}.{i + 1}");
            if (item is not MapNode map || map["value"] is null || map["weight"] is null || map.Entries.Length != 2)
            {
                Findings.Problem(item.Place, where, item.Found, "{ value, weight }");
                bad = true;
                continue;
            }

            values.Add((Number(map["value"]!, where + ".value", dimension, Bounds.Any), Number(map["weight"]!, where + ".weight", Dimension.Number, Bounds.Positive)));
        }

        if (bad || values.Any(v => double.IsNaN(v.Value + v.Weight)))
        {
            return null;
        }

        if (values.Select(v => v.Value).Distinct().Count() < values.Count)
        {
            Findings.Problem(list.Place, path, "the same value twice", "each value once");
            return null;
        }

        double total = values.Sum(v => v.Weight);
        var ordered = values.OrderBy(v => v.Value).ToList();
        return ordered.Count == 1
            ? new FixedValue(ordered[0].Value)
            : Made(() => new DiscreteDistribution([.. ordered.Select(v => v.Value)], [.. ordered.Select(v => v.Weight / total)]), list.Place, path);
    }

    private (IDistribution?, ScenarioNode) Empirical(ScenarioNode node, string path)
    {
        ListNode? list = node switch
        {
            ListNode written => written,
            MapNode map => new CsvColumns(context).ForDistribution(map, path, dimension),
            _ => null,
        };
        if (list is null || list.Items.Length < 2)
        {
            if (node is not MapNode || list is not null)
            {
                Findings.Problem(node.Place, path, list?.Found ?? node.Found, "at least two values, as a list or as { csv, column }");
            }

            return (null, node);
        }

        double[] values = [.. list.Items.Select(item => Number(item, path, dimension, Bounds.Any))];
        return (values.Any(double.IsNaN) ? null
            : values.Distinct().Count() == 1 ? new FixedValue(values[0])
            : Made(() => new EmpiricalDistribution(values), node.Place, path), list);
    }
}
