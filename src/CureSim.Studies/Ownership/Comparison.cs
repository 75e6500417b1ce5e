using System.Collections.Immutable;
using CureSim.Core.Cell;
using CureSim.Core.Statistics;

namespace CureSim.Studies.Ownership;

/// <summary>Options over the same futures: the money of each, and each against each.</summary>
public sealed class Comparison
{
    private readonly Dictionary<(OptionRun, OptionRun), OptionPair> pairs = [];

    private Comparison(ImmutableArray<OptionMoney> options, Futures futures, bool pair)
    {
        Options = options;
        Futures = futures;
        if (!pair)
        {
            return;
        }

        for (int i = 0; i < options.Length; i++)
        {
            for (int j = i + 1; j < options.Length; j++)
            {
                var (a, b) = InOrder(options[i], options[j]);
                var (forward, backward) = OptionPair.Of(a, b, futures);
                pairs[(a.Run, b.Run)] = forward;
                pairs[(b.Run, a.Run)] = backward;
            }
        }
    }

    /// <summary>The options, in the order in which they were given.</summary>
    public ImmutableArray<OptionMoney> Options { get; }

    /// <summary>Their futures.</summary>
    public Futures Futures { get; }

    /// <summary>One option against another.</summary>
    public OptionPair Pair(OptionMoney option, OptionMoney other) => pairs[(option.Run, other.Run)];

    /// <summary>Compares runs.</summary>
    /// <param name="runs">Runs of the same worlds, lifetimes and seed.</param>
    /// <param name="held">Prices held at a value, by <see cref="Price.Signature"/>; null: every price as drawn.</param>
    /// <param name="pair">False: no pairs, for what needs means only.</param>
    public static Comparison Of(IReadOnlyList<OptionRun> runs, IReadOnlyDictionary<string, double>? held = null, bool pair = true)
    {
        ArgumentNullException.ThrowIfNull(runs);
        int count = runs[0].Records.Length;
        var run = runs[0].Scenario.Run;
        if (runs.Any(r => r.Records.Length != count || r.Scenario.Run.Seed != run.Seed || r.Scenario.Run.Worlds != run.Worlds || r.Years != runs[0].Years))
        {
            throw new ArgumentException("Options are compared only over the same lifetimes, seed and horizon.", nameof(runs));
        }

        var futures = Futures.Of(runs[0].Records.Span, runs.Any(r => r.Plan.IsStratified));

        // What the plant runs on until a change is made: the installed option, when there is one and no more.
        OptionRun? installed = runs.Count(r => r.Option.Installed) == 1 ? runs.Single(r => r.Option.Installed) : null;
        return new([.. runs.Select(r => new OptionMoney(r, CostsOf(r, r.Option.Installed ? null : installed, held), futures))], futures, pair);
    }

    /// <summary>Mean difference of discounted cost over the horizon, of two of the options.</summary>
    public Estimate MeanDifference(int option, int other)
    {
        var (a, b) = InOrder(Options[option], Options[other]);
        var mean = Futures.Mean([.. a.Costs.Zip(b.Costs, (x, y) => x.Total - y.Total)]);
        return a == Options[option] || mean.Value is null ? mean : Estimate.Bounded(0.0 - mean.Value.Value, mean.StandardError, 0.0 - mean.Upper95, 0.0 - mean.Lower95, mean.Count);
    }

    /// <summary>Chance that one of the options is cheaper over the horizon than another.</summary>
    public Estimate ChanceAhead(int option, int other) => Futures.Share(i => Options[option].Costs[i].Total < Options[other].Costs[i].Total);

    private static LifetimeCost[] CostsOf(OptionRun run, OptionRun? before, IReadOnlyDictionary<string, double>? held)
    {
        string[] own = Signatures(run.PriceList), old = before is null ? [] : Signatures(before.PriceList);
        var costs = new LifetimeCost[run.Records.Length];
        for (int i = 0; i < costs.Length; i++)
        {
            (Scenario, LifetimeUse, double[])? former = before is null ? null : (before.Scenario, before.Uses[i], Held(before.PricesOf(i), old, held));
            costs[i] = LifetimeCost.Of(run.Scenario, run.Uses[i], Held(run.PricesOf(i), own, held), run.Repeats[i], former);
        }

        return costs;
    }

    private static string[] Signatures(ImmutableArray<Quantity> prices) => [.. prices.Select(Price.Signature)];

    private static double[] Held(double[] prices, string[] signatures, IReadOnlyDictionary<string, double>? held)
    {
        for (int k = 0; held is not null && k < prices.Length; k++)
        {
            if (held.TryGetValue(signatures[k], out double value))
            {
                prices[k] = value;
            }
        }

        return prices;
    }

    private static (OptionMoney First, OptionMoney Second) InOrder(OptionMoney a, OptionMoney b)
    {
        int order = string.CompareOrdinal(a.Run.Option.Sha256, b.Run.Option.Sha256);
        order = order != 0 ? order : string.CompareOrdinal(a.Label, b.Label);
        return order <= 0 ? (a, b) : (b, a);
    }
}
