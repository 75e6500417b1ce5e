using System.Collections.Immutable;
using CureSim.Core.Cell;

namespace CureSim.Scenarios;

/// <summary>Correlations of unknowns, once all quantities are read.</summary>
internal static class Correlations
{
    /// <summary>The correlations; empty after a problem.</summary>
    public static ImmutableArray<UnknownCorrelation> Of(Scenario cell, ReadContext context)
    {
        if (context.Correlations.Count == 0)
        {
            return [];
        }

        string[] unknown = [.. Unknowns.Of(cell)];
        var found = new Dictionary<(string, string), double>();
        int before = context.Findings.Problems.Length;
        foreach (var (of, with, r, place) in context.Correlations)
        {
            string path = $"{of}.correlation";
            if (with == of || !unknown.Contains(with))
            {
                context.Findings.Problem(place, path, with == of ? "the quantity itself" : $"\"{with}\", of which nothing is unknown", "the path of another unknown of this scenario", NearestWord.Question(with, unknown.Where(u => u != of)));
                continue;
            }

            var key = string.CompareOrdinal(of, with) < 0 ? (of, with) : (with, of);
            if (found.TryGetValue(key, out double other) && other != r)
            {
                context.Findings.Problem(place, path, $"two coefficients with {with}", "the same one in both places, or one of them");
            }

            found[key] = r;
        }

        ImmutableArray<UnknownCorrelation> all = [.. found.Select(f => new UnknownCorrelation(f.Key.Item1, f.Key.Item2, f.Value))];
        if (CorrelatedScores.Of(all) is null)
        {
            context.Findings.Problem(context.Correlations[0].Place, context.Correlations[0].Of + ".correlation", "coefficients that cannot hold together", "a positive definite matrix of correlations");
            return [];
        }

        return context.Findings.Problems.Length > before ? [] : all;
    }
}
