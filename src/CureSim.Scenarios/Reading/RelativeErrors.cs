using CureSim.Core.Distributions;

namespace CureSim.Scenarios;

/// <summary>Relative errors as certificates state them: { U: 5 %, k: 2 } and { mpe: ±4 % }.</summary>
internal static class RelativeErrors
{
    private const string Accepted = "{ U: 5 %, k: 2 } or { mpe: ±4 % }";

    /// <summary>Distribution of the logarithm of the factor, or null (a problem is noted).</summary>
    /// <remarks>
    /// U is an expanded uncertainty with coverage factor k (2 when left out): normal, sd U/k (JCGM 100:2008, 6.2.1).
    /// A maximum permissible error is a limit within which nothing more is known: uniform over ± it (JCGM 100:2008, 4.3.7).
    /// </remarks>
    public static IDistribution? Read(MapNode map, string path, ReadContext context)
    {
        string[] known = map["mpe"] is null ? ["U", "k"] : ["mpe"];
        if (map.Entries.FirstOrDefault(e => !known.Contains(e.Key)) is { } stranger)
        {
            context.Findings.Problem(stranger.KeyPlace, path, $"\"{stranger.Key}\" beside \"{known[0]}\"", Accepted);
            return null;
        }

        double Value(string key, Dimension dimension, double otherwise)
        {
            if (map[key] is null && !double.IsNaN(otherwise))
            {
                return otherwise;
            }

            if (map[key] is ScalarNode scalar && ValueText.TryRead(scalar.Text, dimension, context.Clock, out ReadValue read, out _) && read.Si > 0)
            {
                return read.Si;
            }

            context.Findings.Problem(map[key]?.Place ?? map.Place, $"{path}.{key}", map[key]?.Found ?? "nothing", dimension.Accepted + ", more than 0");
            return double.NaN;
        }

        if (map["mpe"] is not null)
        {
            double half = Value("mpe", Dimension.Ratio, double.NaN);
            return double.IsNaN(half) ? null : new UniformDistribution(-half, half);
        }

        double expanded = Value("U", Dimension.Ratio, double.NaN);
        double coverage = Value("k", Dimension.Number, 2);
        return double.IsNaN(expanded + coverage) ? null : new NormalDistribution(0, expanded / coverage);
    }
}
