using System.Collections.Immutable;
using System.Globalization;
using CureSim.Core.Cell;
using CureSim.Core.Distributions;

namespace CureSim.Scenarios;

/// <content>Ageing laws.</content>
internal sealed partial class CellReader
{
    private ImmutableArray<AgeingAlternative> ReadAgeing(BlockReader block)
    {
        (string? name, BlockReader? parameters, ListNode? candidates) = block.Law("ageing");
        if (candidates is not null)
        {
            return ReadCandidates(block, candidates);
        }

        return parameters is not null && ReadLaw(name!, parameters) is { } law ? [new AgeingAlternative(1, law)] : [];
    }

    private ImmutableArray<AgeingAlternative> ReadCandidates(BlockReader block, ListNode list)
    {
        var shape = (LawShape)block.Table["ageing"].Shape with { Candidates = false };
        var alternatives = new List<AgeingAlternative>();
        var nodes = new List<Func<ScenarioNode>>();
        foreach ((int i, ScenarioNode item) in list.Items.Index())
        {
            string path = string.Create(CultureInfo.InvariantCulture, $"source.ageing.candidates.{i + 1}");
            if (item is not MapNode map)
            {
                Findings.Problem(item.Place, path, item.Found, "{ weight, law }");
                continue;
            }

            double weight = 1;
            if (map["weight"] is { } written
                && (written is not ScalarNode text || !ValueText.TryRead(text.Text, Dimension.Number, context.Clock, out ReadValue read, out _) || !((weight = read.Si) > 0)))
            {
                Findings.Problem(written.Place, path + ".weight", written.Found, "a number, more than 0");
            }

            ScenarioNode weightNode = map["weight"] ?? ReadContext.NodeOf("1", Origin.Default);
            Origin origin = map["weight"] is null ? Origin.Default : context.Origins.Of(path + ".weight");
            context.Inputs.Add(new InputNote(path + ".weight", YamlText.Flow(weightNode), null, "", origin, "Weight among the candidates."));
            MapEntry? entry = block.OneLaw(map, path, shape, ["weight"]);
            BlockReader? parameters = entry is null ? null : block.OpenLaw(shape, entry, path);
            if (parameters is not null && ReadLaw(entry!.Key, parameters) is { } law)
            {
                alternatives.Add(new AgeingAlternative(weight, law));
                nodes.Add(() => new MapNode(
                    [new MapEntry("weight", map.Place, weightNode), new MapEntry(entry.Key, entry.KeyPlace, parameters.Resolved())], map.Place, map.Origin));
            }
        }

        block.ResolveLater("ageing", () => new MapNode(
            [new MapEntry("candidates", list.Place, list with { Items = [.. nodes.Select(n => n())] })], list.Place, list.Origin));
        return [.. alternatives];
    }

    private AgeingLaw? ReadLaw(string name, BlockReader law) => name switch
    {
        "exponential" => ReadExponential(law),
        "two_stage" => new TwoStageAgeing(law.Quantity("early_part"), law.Quantity("early_time"), law.Quantity("late_time")),
        "stretched" => ReadStretched(law),
        "table" => ReadTable(law),
        _ => null,
    };

    private static AgeingLaw? ReadExponential(BlockReader law)
    {
        if (law.Written("time"))
        {
            law.Refuse("output", "time alone, or output and at");
            law.Refuse("at", "time alone, or output and at");
            return new ExponentialAgeing(law.Quantity("time"));
        }

        law.Skip("time");
        double output = law.Value("output");
        Quantity at = law.Quantity("at");
        if (output == 1)
        {
            law.Problem("output", "\"100 %\"", "an output below 100 %, or time");
        }

        return new ExponentialAgeing(Scaled(at, 1 / -Math.Log(output)));
    }

    /// <summary>The same quantity in another measure: value × factor.</summary>
    private static Quantity Scaled(Quantity quantity, double factor)
    {
        IDistribution Times(IDistribution d) => d is FixedValue f ? new FixedValue(f.Value * factor)
            : double.IsFinite(factor) && factor > 0 ? new ScaledDistribution(d, factor) : new FixedValue(double.NaN);
        return quantity.Unknown is { } unknown && !quantity.IsVarying
            ? quantity with { Unknown = Times(unknown) }
            : quantity with { Varies = Times(quantity.Varies) };
    }

    private AgeingLaw? ReadStretched(BlockReader law)
    {
        if (!law.Written("points"))
        {
            law.Skip("points");
            law.Refuse("hours_scale", "hours_scale only with points; else vary time");
            return new StretchedAgeing(law.Quantity("time"), law.Quantity("shape"));
        }

        law.Refuse("time", "points alone, or time and shape");
        law.Refuse("shape", "points alone, or time and shape");
        List<(double At, double Output)> points = ReadPoints(law, "points", "at", "output");
        Quantity scale = law.Quantity("hours_scale");
        if (points.Count != 2 || points.Any(p => double.IsNaN(p.At + p.Output)))
        {
            if (points.Count != 2)
            {
                law.Problem("points", FormattableString.Invariant($"{points.Count} points"), "two points");
            }

            return null;
        }

        ((double h1, double r1), (double h2, double r2)) = (points[0], points[1]);
        if (!(h1 > 0 && h2 > h1 && r1 < 1 && r2 < r1))
        {
            law.Problem("points", "points that do not fall", "hours above 0 that rise, outputs below 100 % that fall");
            return null;
        }

        // ln(-ln r) is a straight line in ln h with slope = shape.
        double shape = Math.Log(Math.Log(r1) / Math.Log(r2)) / Math.Log(h1 / h2);
        double time = h1 / Math.Pow(-Math.Log(r1), 1 / shape);
        return new StretchedAgeing(Scaled(scale, time), BlockReader.Absent(law.PathOf("shape"), Level.Emitter, shape));
    }

    private AgeingLaw? ReadTable(BlockReader law)
    {
        List<(double At, double Output)> points = ReadPointsOrCsv(law, ("hours_column", "at", Dimension.LitTime), ("output_column", "output", Dimension.Ratio));
        Quantity scale = law.Quantity("hours_scale");
        if (points.Any(p => double.IsNaN(p.At + p.Output)) || points.Count == 0)
        {
            return null;
        }

        if (points.Count < 2 || points[0].At != 0 || points[0].Output != 1)
        {
            law.Problem("points", FormattableString.Invariant($"a table that starts with {points[0].At / 3600:0.####} h, {points[0].Output * 100:0.####} %"), "at least two points, the first at 0 h, 100 %");
            return null;
        }

        if (Fault(points, mustFall: true) is { } fault)
        {
            law.Problem("points", fault, "hours that rise and outputs that never do");
            return null;
        }

        return new TableAgeing([.. points.Select(p => p.At)], [.. points.Select(p => p.Output)], scale);
    }
}
