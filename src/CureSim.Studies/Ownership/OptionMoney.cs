using CureSim.Core.Statistics;

namespace CureSim.Studies.Ownership;

/// <summary>One option's money in every simulated future, with its figures.</summary>
public sealed class OptionMoney
{
    private readonly Futures futures;
    private readonly LifetimeCost[] costs;
    private readonly double[] fraction;

    internal OptionMoney(OptionRun run, LifetimeCost[] costs, Futures futures)
    {
        Run = run;
        this.costs = costs;
        this.futures = futures;
        fraction = [.. run.Uses.Select(u => u.Whole(UseKind.Parts) > 0.0 ? u.Whole(UseKind.NonconformingParts) / u.Whole(UseKind.Parts) : 0.0)];
    }

    /// <summary>The option as simulated.</summary>
    public OptionRun Run { get; }

    /// <summary>Short name.</summary>
    public string Label => Run.Option.Label;

    /// <summary>Its futures.</summary>
    public IReadOnlyList<LifetimeCost> Costs => costs;

    /// <summary>Discounted cost up to a year: mean.</summary>
    public Estimate Mean(int year) => futures.Mean(At(year));

    /// <summary>… percentile over futures.</summary>
    public Estimate Quantile(int year, double p) => futures.Quantile(At(year), p);

    /// <summary>Discounted cost of a kind over the horizon: mean.</summary>
    public Estimate OfKind(CostKind kind) => futures.Mean(Each(c => c.ByKind[(int)kind]));

    /// <summary>Percentile over futures of the discounted cost of a kind.</summary>
    public Estimate OfKind(CostKind kind, double p) => futures.Quantile(Each(c => c.ByKind[(int)kind]), p);

    /// <summary>Discounted cost over discounted good parts.</summary>
    public Estimate PerGoodPart => futures.Ratio(Each(c => c.Total), Each(c => c.GoodParts[^1]));

    /// <summary>Percentile over futures of the cost of a good part.</summary>
    public Estimate PerGoodPartQuantile(double p) => futures.Quantile(Each(c => c.PerGoodPart), p);

    /// <summary>Paid at the start: mean.</summary>
    public Estimate Start => futures.Mean(Each(c => c.Start));

    /// <summary>Mean of anything that futures hold.</summary>
    public Estimate MeanOf(Func<LifetimeCost, double> amount) => futures.Mean(Each(amount));

    /// <summary>Nonconforming parts, ppm of parts made; the interval without what a share cannot be.</summary>
    public Estimate Ppm
    {
        get
        {
            var e = futures.Ratio([.. Run.Uses.Select(u => 1e6 * u.Whole(UseKind.NonconformingParts))], [.. Run.Uses.Select(u => u.Whole(UseKind.Parts))]);
            return e.Value is { } v && (e.Lower95 < 0.0 || e.Upper95 > 1e6)
                ? Estimate.Bounded(v, e.StandardError, e.Lower95 is { } low ? Math.Max(0.0, low) : null, e.Upper95 is { } high ? Math.Min(Math.Max(1e6, v), high) : null, e.Count) : e;
        }
    }

    /// <summary>Mean of a use over the horizon, in the option's own lifetime.</summary>
    public Estimate Use(UseKind kind) => futures.Mean([.. Run.Uses.Select(u => u.Whole(kind))]);

    /// <summary>Whether a lifetime holds the window: its nonconforming fraction is within the limit. Null when no limit is known.</summary>
    public bool? Holds(int lifetime) => Run.Option.NonconformingLimit is { } limit ? fraction[lifetime] <= limit : null;

    /// <summary>Share of lifetimes that hold the window.</summary>
    public Estimate HoldsShare => Run.Option.NonconformingLimit is null
        ? Estimate.Withhold("no limit on nonconforming parts is stated and no capability is required")
        : futures.Share(i => Holds(i) == true);

    /// <summary>Nonconforming parts at the unfavourable end: the upper 95 % limit or the upper end of the band over worlds, whichever is higher, ppm; null when neither can be told.</summary>
    public double? PpmUnfavourable
    {
        get
        {
            double? limit = Ppm.Upper95, band = Run.Figures.Find(Interval.IntervalMeasures.Ppm)?.Band?.Upper95;
            return band is { } b && limit is { } l ? Math.Max(b, l) : limit ?? band;
        }
    }

    /// <summary>Whether the option as a whole holds the window: nonconforming parts within the limit at their unfavourable end. Null when that cannot be said.</summary>
    public bool? HoldsWindow => Run.Option.NonconformingLimit is { } limit && PpmUnfavourable is { } upper ? upper <= 1e6 * limit : null;

    internal double[] At(int year) => Each(c => c.Cumulative[year]);

    internal double[] Each(Func<LifetimeCost, double> amount) => Array.ConvertAll(costs, c => amount(c));
}
