using System.Collections.Immutable;
using CureSim.Core.Statistics;

namespace CureSim.Studies.Assurance;

/// <summary>The simulated operating characteristic: lifetimes in bins of their own fraction nonconforming.</summary>
internal static class OperatingBins
{
    /// <summary>Fewer lifetimes than this in a bin say too little to be drawn.</summary>
    private const int Least = 10;

    private static readonly double[] Edges = [0.0, 1e-4, 3e-4, 1e-3, 2e-3, 4e-3, 7e-3, 0.01, 0.015, 0.02, 0.03, 0.04, 0.055, 0.075, 0.1, 0.14, 0.2, 0.3, 0.5, 1.0 + 1e-9];

    /// <summary>One point a bin with enough lifetimes.</summary>
    /// <param name="label">How the parts are spread.</param>
    /// <param name="fractions">Fraction of each lifetime.</param>
    /// <param name="passed">Whether it passed; null: not carried out.</param>
    /// <param name="worlds">World of each lifetime.</param>
    public static OperatingCurve Of(string label, double[] fractions, bool?[] passed, int[] worlds)
    {
        var points = ImmutableArray.CreateBuilder<OperatingPoint>();
        int count = worlds.Length == 0 ? 0 : worlds.Max() + 1;
        for (int b = 0; b + 1 < Edges.Length; b++)
        {
            int[] inside = [.. Enumerable.Range(0, passed.Length).Where(i => passed[i] is not null && fractions[i] >= Edges[b] && fractions[i] < Edges[b + 1])];
            if (inside.Length < Least)
            {
                continue;
            }

            long seen = inside.LongCount(i => passed[i]!.Value);
            var exact = BinomialInterval.ClopperPearson(seen, inside.Length).ToEstimate();
            points.Add(new(inside.Average(i => fractions[i]), inside.Length, count > 1 ? ByWorlds(inside, passed, worlds, count, exact) : exact));
        }

        return new(label, points.ToImmutable());
    }

    // The wider of the two: lifetimes of one bin but of one world may have more in common than their fraction.
    private static Estimate ByWorlds(int[] inside, bool?[] passed, int[] worlds, int count, Estimate exact)
    {
        var (seen, all) = (new double[count], new double[count]);
        foreach (int i in inside)
        {
            all[worlds[i]]++;
            seen[worlds[i]] += passed[i]!.Value ? 1.0 : 0.0;
        }

        var between = BatchEstimate.Of([.. seen.Zip(all, (a, m) => m > 0.0 ? a / m : 0.0)], all);
        return between is { Lower95: { } low, Upper95: { } high } && exact is { Value: { } v, Lower95: { } l, Upper95: { } u }
            ? Estimate.Bounded(v, null, Math.Max(0.0, Math.Min(low, l)), Math.Min(1.0, Math.Max(high, u)), exact.Count)
            : exact;
    }
}
