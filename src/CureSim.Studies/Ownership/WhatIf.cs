using System.Collections.Immutable;
using CureSim.Core.Cell;
using CureSim.Core.Distributions;
using CureSim.Core.Statistics;
using CureSim.Engine.Runs;

namespace CureSim.Studies.Ownership;

/// <summary>Which inputs would turn the decision: each alone at its 10th and its 90th percentile. Prices are changed in the same lifetimes; what is unknown of the cell is simulated again.</summary>
public sealed class WhatIf
{
    /// <summary>Most lifetimes of all worlds together in a run with one unknown held.</summary>
    public const int MostLifetimes = 192;

    private WhatIf(Estimate decision, Estimate smaller, ImmutableArray<WhatIfRow> rows)
    {
        Decision = decision;
        Smaller = smaller;
        Rows = rows;
    }

    /// <summary>Mean difference of discounted cost, challenger less reference, with nothing moved.</summary>
    public Estimate Decision { get; }

    /// <summary>The same over the lifetimes that the runs with one unknown held share; withheld when nothing is unknown.</summary>
    public Estimate Smaller { get; }

    /// <summary>Inputs, those that move the difference most first.</summary>
    public ImmutableArray<WhatIfRow> Rows { get; }

    /// <summary>Rows with a distribution that can turn the decision, or leave it open.</summary>
    public IEnumerable<(WhatIfRow Row, Outcome Outcome)> Turning => Rows.Select(r => (r, r.Worst(r.Physical ? Smaller : Decision))).Where(x => x.Item2 != Outcome.Same);

    /// <summary>How many lifetimes the runs with one unknown held will simulate.</summary>
    public static long Planned(IReadOnlyList<OptionRun> runs)
    {
        ArgumentNullException.ThrowIfNull(runs);
        var physical = Unknowns(runs);
        var run = RoutineSearch.Fewer(runs[0].Scenario.Run, MostLifetimes);
        return physical.Length == 0 ? 0 : (long)run.Worlds * run.LifetimesPerWorld * (runs.Count + (2 * physical.Sum(p => p.Owners.Length)));
    }

    /// <summary>Works it out.</summary>
    /// <param name="runs">The runs; the first is the challenger, the second the reference, a third what the plant runs on until the change when that is neither.</param>
    /// <param name="physical">False: prices only.</param>
    /// <param name="threads">Threads.</param>
    /// <param name="progress">Called now and then.</param>
    /// <param name="cancel">Stops it.</param>
    public static WhatIf Of(IReadOnlyList<OptionRun> runs, bool physical, int threads, Action<RunProgress>? progress, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(runs);
        var decision = Comparison.Of(runs, pair: false).MeanDifference(0, 1);
        var rows = new List<WhatIfRow>();
        foreach (var price in Prices(runs))
        {
            cancel.ThrowIfCancellationRequested();
            if (PriceRow(runs, price.Id, price.Quantity, price.Options) is { } row)
            {
                rows.Add(row);
            }
        }

        var smaller = Estimate.Withhold("nothing of the cells is unknown");
        if (physical && Unknowns(runs) is { IsEmpty: false } unknown)
        {
            OptionRun Again(OptionRun run, Func<Scenario, Scenario> change) =>
                OptionRun.Run(run.Option, change(run.Scenario) with { Run = RoutineSearch.Fewer(run.Scenario.Run, MostLifetimes) }, threads, progress, cancel);
            OptionRun[] bases = [.. runs.Select(r => Again(r, s => s))];
            smaller = Comparison.Of(bases, pair: false).MeanDifference(0, 1);
            foreach (var one in unknown)
            {
                Estimate At(double p) => Comparison.Of(
                    [.. bases.Select((b, i) => one.Owners.Contains(i) ? Again(runs[i], s => one.At(s, p)) : b)], pair: false).MeanDifference(0, 1);
                rows.Add(new(one.Path, Labels(runs, one.Owners), true, one.Low, one.High, one.Mean, At(0.1), At(0.9), null));
            }
        }

        return new(decision, smaller, [.. rows.OrderByDescending(r => r.Swing).ThenBy(r => r.Path, StringComparer.Ordinal).ThenBy(r => r.Options, StringComparer.Ordinal)]);
    }

    private static WhatIfRow? PriceRow(IReadOnlyList<OptionRun> runs, PriceId id, Quantity quantity, string options)
    {
        string signature = Price.Signature(quantity);
        if (quantity.IsFixed && quantity.Varies.Mean == 0.0)
        {
            return null;
        }

        Estimate At(double value) => Comparison.Of(runs, new Dictionary<string, double>(StringComparer.Ordinal) { [signature] = value }, pair: false).MeanDifference(0, 1);
        double mean = quantity.Mean;
        double? breakEven = null;
        if (id <= Price.LastAmount)
        {
            // The mean difference is a straight line in an amount: two points give it.
            double step = mean > 0.0 ? mean : 1.0;
            if (At(0.0).Value is { } none && At(step).Value is { } once && once != none && -none * step / (once - none) is >= 0.0 and var zero)
            {
                breakEven = zero;
            }
        }

        if (quantity.IsFixed)
        {
            return breakEven is null ? null : new(quantity.Path, options, false, null, null, mean, null, null, breakEven);
        }

        double low = Percentile(quantity, 0.1), high = Percentile(quantity, 0.9);
        return new(quantity.Path, options, false, low, high, mean, At(low), At(high), breakEven);
    }

    // A price that varies and has an unknown factor: the percentile of the part that spreads more, the other at its mean.
    private static double Percentile(Quantity q, double p) => q.Unknown is { } unknown && (!q.IsVarying || Relative(unknown) > Relative(q.Varies))
        ? q.Varies.Mean * unknown.Quantile(p)
        : q.Varies.Quantile(p) * (q.Unknown?.Mean ?? 1.0);

    private static double Relative(IDistribution d) => d.Mean != 0.0 ? d.StandardDeviation / Math.Abs(d.Mean) : double.PositiveInfinity;

    // Prices in an order that does not depend on that of the options; the challenger's and the reference's own, and what they share once.
    private static IEnumerable<(PriceId Id, Quantity Quantity, string Options)> Prices(IReadOnlyList<OptionRun> runs) =>
        Enumerable.Range(0, Price.Count).SelectMany(k => runs.Take(2)
            .Select((run, i) => (Quantity: run.PriceList[k], i))
            .Where(x => !double.IsInfinity(x.Quantity.Mean))
            .GroupBy(x => Price.Signature(x.Quantity), StringComparer.Ordinal)
            .Select(g => ((PriceId)k, g.First().Quantity, Labels(runs, [.. g.Select(x => x.i)]))));

    private static string Labels(IReadOnlyList<OptionRun> runs, ImmutableArray<int> owners) =>
        string.Join(" and ", owners.Select(i => runs[i].Option.Label).Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal));

    private sealed record Held(string Path, ImmutableArray<int> Owners, double Low, double High, double Mean, Func<Scenario, double, Scenario> At);

    // What is unknown of the cells; options that state it alike are moved together, as in one world they share it.
    private static ImmutableArray<Held> Unknowns(IReadOnlyList<OptionRun> runs) =>
    [
        .. runs.SelectMany((run, i) => ScenarioQuantities.Unknown(run.Scenario).Select(q => (Quantity: q, i)))
            .GroupBy(x => Price.Signature(x.Quantity with { Varies = new FixedValue(1.0) }), StringComparer.Ordinal).OrderBy(g => g.Key, StringComparer.Ordinal)
            .Select(g => (Of: g.First().Quantity, Owners: g.Select(x => x.i).ToImmutableArray()))
            .Select(x => new Held(x.Of.Path, x.Owners, x.Of.Unknown!.Quantile(0.1), x.Of.Unknown.Quantile(0.9), x.Of.Unknown.Mean,
                (s, p) => ScenarioQuantities.With(s, x.Of.Path, q => q with { Unknown = new FixedValue(q.Unknown!.Quantile(p)) }))),
    ];
}
