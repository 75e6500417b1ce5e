using System.Collections.Immutable;
using CureSim.Core.Statistics;

namespace CureSim.Studies.Ownership;

/// <summary>Two options set against each other, future by future. All amounts are those of the option less those of the other: below zero the option is cheaper.</summary>
/// <remarks>A pair is worked out in one direction only, that of <see cref="Comparison"/>'s own order; the other direction is its mirror image, so that the order of the files changes no bit.</remarks>
public sealed class OptionPair
{
    /// <summary>Percentiles of the bands.</summary>
    public static readonly ImmutableArray<double> Bands = [0.05, 0.5, 0.95];

    private OptionPair(OptionMoney option, OptionMoney other)
    {
        Option = option;
        Other = other;
    }

    /// <summary>The option.</summary>
    public OptionMoney Option { get; }

    /// <summary>What it is set against.</summary>
    public OptionMoney Other { get; }

    /// <summary>Mean difference of discounted cost up to each year, from the start.</summary>
    public ImmutableArray<Estimate> Mean { get; private init; } = [];

    /// <summary>Percentiles (5, 50, 95 %) of the difference up to each year.</summary>
    public ImmutableArray<ImmutableArray<Estimate>> Quantiles { get; private init; } = [];

    /// <summary>Chance that the option is cheaper up to each year.</summary>
    public ImmutableArray<Estimate> Ahead { get; private init; } = [];

    /// <summary>… among futures in which both hold the window.</summary>
    public ImmutableArray<Estimate> AheadBothHold { get; private init; } = [];

    /// <summary>Share of futures in which both cost exactly the same over the horizon.</summary>
    public double Even { get; private init; }

    /// <summary>Share of futures in which both hold the window.</summary>
    public Estimate BothHold { get; private init; } = Estimate.Withhold("not worked out");

    /// <summary>Share of futures in which the option is ahead from a year on, and stays so to the horizon: by year 0, 1, …; the last entry is never.</summary>
    public ImmutableArray<Estimate> Payback { get; private init; } = [];

    /// <summary>Mean of what the option pays more at the start.</summary>
    public Estimate ExtraAtStart { get; private init; } = Estimate.Withhold("not worked out");

    /// <summary>The largest extra payment at the start at which the option is ahead at the horizon with a chance of 50 %.</summary>
    public Estimate AffordableAt50 { get; private init; } = Estimate.Withhold("not worked out");

    /// <summary>… of 90 %.</summary>
    public Estimate AffordableAt90 { get; private init; } = Estimate.Withhold("not worked out");

    /// <summary>Mean difference by kind of cost, discounted, over the horizon.</summary>
    public ImmutableArray<Estimate> ByKind { get; private init; } = [];

    /// <summary>Both directions of a pair.</summary>
    internal static (OptionPair Forward, OptionPair Backward) Of(OptionMoney a, OptionMoney b, Futures futures)
    {
        int years = a.Run.Years, n = futures.Count;
        double[][] d = [.. Enumerable.Range(0, years + 1).Select(y => Less(a.At(y), b.At(y)))];
        bool both(int i) => a.Holds(i) == true && b.Holds(i) == true;
        bool known = a.Run.Option.NonconformingLimit is not null && b.Run.Option.NonconformingLimit is not null;
        Estimate Among(Func<int, bool> ahead) => known ? futures.Share(ahead, both) : Estimate.Withhold("no limit on nonconforming parts is stated and no capability is required");
        var mean = d.Select(futures.Mean).ToImmutableArray();
        var quantiles = d.Select(x => Bands.Select(p => futures.Quantile(x, p)).ToImmutableArray()).ToImmutableArray();
        var kinds = CostKinds.All.Select(k => futures.Mean(Less(a.Each(c => c.ByKind[(int)k]), b.Each(c => c.ByKind[(int)k])))).ToImmutableArray();
        double even = (double)Enumerable.Range(0, n).Count(i => d[years][i] == 0.0) / n;
        var held = known ? futures.Share(both) : Among(_ => false);
        var start = futures.Mean(d[0]);

        // What a saves over b in running costs; the mirror's saving is its negative, so its percentiles are those of the other tail.
        double[] saving = Less(d[0], d[years]);
        OptionPair One(OptionMoney option, OptionMoney other, double sign) => new(option, other)
        {
            Mean = [.. mean.Select(m => Signed(m, sign))],
            Quantiles = [.. quantiles.Select(q => sign > 0.0 ? q : [.. q.Reverse().Select(e => Signed(e, sign))])],
            Ahead = [.. d.Select(x => futures.Share(i => sign * x[i] < 0.0))],
            AheadBothHold = [.. d.Select(x => Among(i => sign * x[i] < 0.0))],
            Even = even,
            BothHold = held,
            Payback = [.. Enumerable.Range(0, years + 2).Select(y => futures.Share(i => Since(d, i, sign) == y))],
            ExtraAtStart = Signed(start, sign),
            AffordableAt50 = Signed(futures.Quantile(saving, 0.5), sign),
            AffordableAt90 = Signed(futures.Quantile(saving, sign > 0.0 ? 0.1 : 0.9), sign),
            ByKind = [.. kinds.Select(k => Signed(k, sign))],
        };
        return (One(a, b, 1.0), One(b, a, -1.0));
    }

    // First year from which the option is cheaper up to every later one; years + 1 when it is not at the horizon.
    private static int Since(double[][] d, int i, double sign)
    {
        int y = d.Length;
        while (y > 0 && sign * d[y - 1][i] < 0.0)
        {
            y--;
        }

        return y;
    }

    private static double[] Less(double[] a, double[] b) => [.. a.Zip(b, (x, y) => x - y)];

    // 0 − x, not −x: a difference of zero stays zero and does not become minus zero.
    private static Estimate Signed(Estimate e, double sign) =>
        sign > 0.0 || e.Value is null ? e : Estimate.Bounded(0.0 - e.Value.Value, e.StandardError, 0.0 - e.Upper95, 0.0 - e.Lower95, e.Count);
}
