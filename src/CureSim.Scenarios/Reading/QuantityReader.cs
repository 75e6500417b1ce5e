using System.Globalization;
using CureSim.Core.Cell;
using CureSim.Core.Distributions;

namespace CureSim.Scenarios;

/// <summary>Reads a value or a distribution into a <see cref="Quantity"/>.</summary>
internal sealed class QuantityReader(ReadContext context, string path, QuantityShape shape)
{
    /// <summary>A draw outside its range once in so many is refused: a run draws at most about 1e9 values of a quantity.</summary>
    public const double NegligibleProbability = 1e-12;

    private readonly DistributionReader distributions = new(context, shape.Dimension, shape.Bounds, shape.Kind == QuantityKind.RelativeError);

    private Findings Findings => context.Findings;

    /// <summary>The quantity (null after a problem), and the node with its data files written out.</summary>
    public (Quantity? Quantity, ScenarioNode Resolved) Read(ScenarioNode node)
    {
        switch (node)
        {
            case ScalarNode scalar:
                return (Fixed(scalar), scalar);
            case MapNode map when map["unknown"] is { } unknown:
                return OnlyUnknown(map, unknown);
            case MapNode map when ReferenceEquals(shape.Dimension, Dimension.EventRate) && (map["events"] ?? map["in"]) is not null:
                return (EventRate(map), map);
            case MapNode map:
                return Varying(map);
            default:
                Findings.Problem(node.Place, path, node.Found, KeyWords.Accepted(shape));
                return (null, node);
        }
    }

    private Quantity? Fixed(ScalarNode scalar)
    {
        if (!ValueText.TryRead(scalar.Text, shape.Dimension, context.Clock, out ReadValue value, out string? suggestion))
        {
            suggestion ??= NearestWord.Question(scalar.Text, shape.Words);
            Findings.Problem(scalar.Place, path, scalar.Found, KeyWords.Accepted(shape), suggestion);
            return null;
        }

        if (value.PlusMinus)
        {
            string instead = shape.Kind == QuantityKind.RelativeError ? "{ mpe: " + scalar.Text + " }" : "{ uniform: { from: ..., to: ... } } or { normal: { sd: ... } }";
            Findings.Problem(scalar.Place, path, scalar.Found, KeyWords.Accepted(shape), $"what ± means must be said: write {instead}");
            return null;
        }

        switch (shape.Kind)
        {
            case QuantityKind.RelativeError when value.Si < 0:
                Findings.Problem(scalar.Place, path, scalar.Found, "a standard deviation, 0 % or more");
                return null;
            case QuantityKind.RelativeError when value.Si > 0:
                return new Quantity(path, shape.Level, new NormalDistribution(0, value.Si));
            case QuantityKind.Deviation when value.Si != 0:
                Findings.Problem(
                    scalar.Place, path, $"{scalar.Found}, which could be a shift or a spread", KeyWords.Accepted(shape),
                    $"write {{ normal: {{ sd: {scalar.Text} }} }}");
                return null;
        }

        if (!shape.Bounds.Allows(value.Si))
        {
            Findings.Problem(scalar.Place, path, scalar.Found, shape.Bounds.Words);
            return null;
        }

        return Quantity.Of(path, shape.Level, value.Si);
    }

    // { unknown: DIST }: fixed in truth, not known to us.
    private (Quantity?, ScenarioNode) OnlyUnknown(MapNode map, ScenarioNode unknown)
    {
        foreach (MapEntry other in map.Entries.Where(e => e.Key != "unknown"))
        {
            Findings.Problem(
                other.KeyPlace, path, $"\"{other.Key}\" beside \"unknown\"", "{ unknown: distribution } alone",
                "for a quantity that varies and has an unknown scale write { distribution, unknown_factor: distribution }");
        }

        (IDistribution? distribution, ScenarioNode resolved) = unknown is MapNode known && known["estimate"] is not null
            ? (new EstimateReader(context, path, shape.Dimension, shape.Bounds).Read(known, path + ".unknown"), unknown)
            : distributions.Read(unknown, path + ".unknown");
        if (distribution is not null)
        {
            CheckRange(distribution, shape.Bounds, unknown, path + ".unknown");
        }

        return (distribution is null ? null : new Quantity(path, shape.Level, new FixedValue(1), distribution),
            map with { Entries = [new MapEntry("unknown", map.Place, resolved)] });
    }

    private (Quantity?, ScenarioNode) Varying(MapNode map)
    {
        MapEntry? factor = map.Entry("unknown_factor");
        (IDistribution? varies, ScenarioNode resolved) = distributions.Read(map.Without("unknown_factor"), path);
        if (varies is not null and not FixedValue && shape.Level == Level.World)
        {
            Findings.Problem(
                map.Place, path, "a distribution of a value that never changes within a world", "a value, or { unknown: distribution }",
                $"write {{ unknown: {YamlText.Flow(map)} }}");
            return (null, map);
        }

        if (varies is not null)
        {
            CheckRange(varies, shape.Bounds, map, path);
        }

        if (factor is null)
        {
            return (varies is null ? null : new Quantity(path, shape.Level, varies), resolved);
        }

        string factorPath = path + ".unknown_factor";
        (IDistribution? unknown, ScenarioNode factorNode) = factor.Value is MapNode known && known["estimate"] is not null
            ? (new EstimateReader(context, path, Dimension.Number, Bounds.Positive).Read(known, factorPath), factor.Value)
            : new DistributionReader(context, Dimension.Number, Bounds.Positive, false).Read(factor.Value, factorPath);
        if (unknown is not null)
        {
            CheckRange(unknown, Bounds.Positive, factor.Value, factorPath);
        }

        return (varies is null || unknown is null ? null : new Quantity(path, shape.Level, varies, unknown),
            ((MapNode)resolved).With("unknown_factor", factor.KeyPlace, factorNode));
    }

    // { events: 2, in: 6000 h }: with a prior proportional to rate^(-1/2) the rate is gamma distributed, shape events + 1/2, scale 1/T.
    private Quantity? EventRate(MapNode map)
    {
        foreach (MapEntry other in map.Entries.Where(e => e.Key is not ("events" or "in")))
        {
            Findings.Problem(other.KeyPlace, path, $"the unknown key \"{other.Key}\"", "events, in", NearestWord.OfKey(other.Key, ["events", "in"]));
        }

        double events = double.NaN;
        if (map["events"] is ScalarNode count && ulong.TryParse(count.Text, NumberStyles.None, CultureInfo.InvariantCulture, out ulong counted))
        {
            events = counted;
        }
        else
        {
            Findings.Problem(map["events"]?.Place ?? map.Place, path + ".events", map["events"]?.Found ?? "nothing", "how many events were seen, a whole number");
        }

        double seconds = double.NaN;
        if (map["in"] is ScalarNode span && ValueText.TryRead(span.Text, Dimension.ProductionTime, context.Clock, out ReadValue time, out _) && time.Si > 0)
        {
            seconds = time.Si;
        }
        else
        {
            Findings.Problem(map["in"]?.Place ?? map.Place, path + ".in", map["in"]?.Found ?? "nothing", Dimension.ProductionTime.Accepted);
        }

        return double.IsNaN(events + seconds) ? null : new Quantity(path, shape.Level, new FixedValue(1), new GammaDistribution(events + 0.5, 1 / seconds));
    }

    private void CheckRange(IDistribution distribution, Bounds bounds, ScenarioNode node, string where)
    {
        double outside = bounds.ProbabilityOutside(distribution);
        if (outside > NegligibleProbability)
        {
            Findings.Problem(
                node.Place, where, $"a distribution that is outside its range with probability {Bounds.Printed(outside)}", bounds.Words,
                distribution is FixedValue ? null : bounds.Least == 0 && double.IsInfinity(bounds.Most)
                    ? "write a lognormal distribution, or add at_least"
                    : "add at_least or at_most");
        }
    }
}
