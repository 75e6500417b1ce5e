using CureSim.Core.Distributions;

namespace CureSim.Scenarios;

/// <summary>Reads a distribution of one dimension.</summary>
/// <param name="context">Shared by all readers.</param>
/// <param name="dimension">Dimension of the values.</param>
/// <param name="bounds">Range of the quantity; where it may have either sign, a mean left out is 0.</param>
/// <param name="relativeError">True when it is the logarithm of a factor: { U, k } and { mpe } are then accepted, and a bare percentage.</param>
internal sealed partial class DistributionReader(ReadContext context, Dimension dimension, Bounds bounds, bool relativeError)
{
    private Findings Findings => context.Findings;

    /// <summary>The distribution (null after a problem), and its node with data files written out.</summary>
    public (IDistribution? Distribution, ScenarioNode Resolved) Read(ScenarioNode node, string path)
    {
        if (node is not MapNode map)
        {
            if (relativeError && node is ScalarNode scalar && ValueText.TryRead(scalar.Text, dimension, context.Clock, out ReadValue sd, out _)
                && !sd.PlusMinus && sd.Si > 0)
            {
                return (new NormalDistribution(0, sd.Si), node);
            }

            Findings.Problem(node.Place, path, node.Found, "a distribution", $"such as {Sample()}");
            return (null, node);
        }

        if (relativeError && (map["U"] ?? map["k"] ?? map["mpe"]) is not null)
        {
            return (RelativeErrors.Read(map, path, context), map);
        }

        string[] names = [.. DistributionForm.All.Select(f => f.Name)];
        string[] known = [.. names, .. DistributionForm.Limits];
        bool strangers = false;
        foreach (MapEntry entry in map.Entries.Where(e => !known.Contains(e.Key)))
        {
            strangers = true;
            Findings.Problem(entry.KeyPlace, path, $"the unknown key \"{entry.Key}\"", string.Join(", ", known), NearestWord.OfKey(entry.Key, known));
        }

        MapEntry[] named = [.. map.Entries.Where(e => names.Contains(e.Key))];
        if (named.Length != 1)
        {
            if (!strangers)
            {
                Findings.Problem(
                    map.Place, path, named.Length == 0 ? "no distribution" : string.Join(" and ", named.Select(n => n.Key)),
                    $"exactly one of {string.Join(", ", names)}", $"such as {Sample()}");
            }

            return (null, map);
        }

        (IDistribution? inner, ScenarioNode resolved) = Named(named[0].Key, named[0].Value, $"{path}.{named[0].Key}");
        MapNode whole = map.With(named[0].Key, named[0].KeyPlace, resolved);
        return (inner is null ? null : Truncated(inner, map, path), whole);
    }

    private string Sample() => relativeError ? "{ normal: { sd: 4 % } }" : $"{{ normal: {{ mean: {dimension.Example}, sd: 5 % }} }}";

    private IDistribution? Truncated(IDistribution inner, MapNode map, string path)
    {
        double lower = Limit(map, "at_least", path) ?? double.NegativeInfinity;
        double upper = Limit(map, "at_most", path) ?? double.PositiveInfinity;
        if (double.IsNaN(lower + upper) || (double.IsNegativeInfinity(lower) && double.IsPositiveInfinity(upper)))
        {
            return double.IsNaN(lower) || double.IsNaN(upper) ? null : inner;
        }

        if (!(lower < upper))
        {
            Findings.Problem(map.Place, path, "at_least that is not below at_most", "limits that do not cross");
            return null;
        }

        if (inner is FixedValue or DiscreteDistribution)
        {
            Findings.Problem(map.Place, path, "limits on a distribution that lists its values", "at_least and at_most with a continuous distribution");
            return null;
        }

        double kept = inner.Cdf(upper) - inner.Cdf(lower);
        if (!(kept > LeastKept))
        {
            Findings.Problem(
                map.Place, path, $"limits that keep {Bounds.Printed(Math.Max(0, kept))} of the distribution",
                $"limits that keep at least {Bounds.Printed(LeastKept)} of it");
            return null;
        }

        return Made(() => new TruncatedDistribution(inner, lower, upper), map.Place, path);
    }

    // Less than this is a mistake, and the tail of the inner distribution would be asked for more digits than it has.
    private const double LeastKept = 1e-6;

    private double? Limit(MapNode map, string name, string path) =>
        map.Entry(name) is { } entry ? Number(entry.Value, $"{path}.{name}", dimension, Bounds.Any) : null;

    private (IDistribution? Distribution, ScenarioNode Resolved) Named(string name, ScenarioNode node, string path)
    {
        if (name == "discrete")
        {
            return (Discrete(node, path), node);
        }

        if (name == "empirical")
        {
            return Empirical(node, path);
        }

        DistributionForm form = DistributionForm.Named(name)!;
        if (node is not MapNode map)
        {
            Findings.Problem(node.Place, path, node.Found, SetsInWords(form), $"such as {form.Sample}");
            return (null, node);
        }

        string[] known = [.. form.Sets.SelectMany(s => s).Select(p => p.Name).Distinct()];
        bool strangers = false;
        foreach (MapEntry entry in map.Entries.Where(e => !known.Contains(e.Key)))
        {
            strangers = true;
            Findings.Problem(entry.KeyPlace, path, $"the unknown key \"{entry.Key}\"", string.Join(", ", known), NearestWord.OfKey(entry.Key, known));
        }

        Parameter[]? set = form.Sets.FirstOrDefault(s => map.Entries.All(e => s.Any(p => p.Name == e.Key)) && s.All(p => map[p.Name] is not null || MayBeLeftOut(name, p)));
        if (set is null)
        {
            if (!strangers)
            {
                Findings.Problem(
                    map.Place, path, map.Entries.IsEmpty ? "no parameters" : string.Join(", ", map.Entries.Select(e => e.Key)), SetsInWords(form), $"such as {form.Sample}");
            }

            return (null, node);
        }

        var values = set.ToDictionary(p => p.Name, p => Read(map, p, path));
        if (values.Values.Any(v => double.IsNaN(v ?? 0)))
        {
            return (null, node);
        }

        return (Made(() => Shapes.Make(name, values, (found, accepted) => Findings.Problem(map.Place, path, found, accepted)), map.Place, path), node);
    }

    // What the rules here let through and the distribution itself refuses: sizes at the ends of what a double holds.
    private IDistribution? Made(Func<IDistribution?> make, Place place, string path)
    {
        try
        {
            return make();
        }
        catch (Exception e) when (e is ArgumentException or ArithmeticException)
        {
            Findings.Problem(place, path, $"parameters that no distribution can be made from ({e.Message.Split('\n')[0].TrimEnd('.', '\r')})", "parameters of a usual size");
            return null;
        }
    }

    private static string SetsInWords(DistributionForm form) => string.Join(", or ", form.Sets.Select(s => "{ " + string.Join(", ", s.Select(p => p.Name)) + " }"));
}
