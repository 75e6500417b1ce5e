using System.Collections.Immutable;
using CureSim.Core.Statistics;
using CureSim.Reports.Figures;
using CureSim.Reports.Text;
using CureSim.Studies.Ownership;

namespace CureSim.Reports.Ownership;

/// <summary>The figures of the ownership study.</summary>
public static class OwnershipPlots
{
    private const int MostOptions = 5;
    private const int MostBars = 18;
    private const int MostInputs = 14;
    private static readonly Tone[] Tones = [Tone.First, Tone.Second, Tone.Third, Tone.Fourth, Tone.Fifth];

    /// <summary>Figures with the names of their files.</summary>
    public static IEnumerable<(string Name, Figure Figure)> Of(OwnershipResult study)
    {
        ArgumentNullException.ThrowIfNull(study);
        if (study.Years > 1 && study.Present.Options.All(o => o.Quantile(0, 0.5).Value is not null))
        {
            yield return ("cost_bands", Bands(study));
            yield return ("difference", Difference(study));
            yield return ("chance_ahead", Chance(study));
        }

        if (Breakdown(study) is { } breakdown)
        {
            yield return ("breakdown", breakdown);
        }

        if (Flips(study) is { } flips)
        {
            yield return ("what_would_turn_it", flips);
        }
    }

    private static string Sample(OwnershipResult study)
    {
        var run = study.Reference.Run.Scenario.Run;
        string worlds = run.Worlds > 1 ? $"{Format.Count(run.Worlds)} worlds × " : "";
        return $"{worlds}{Format.Count(run.LifetimesPerWorld)} lifetimes, the same for each option";
    }

    private static ImmutableArray<double> Years(OwnershipResult study) => [.. Enumerable.Range(0, study.Years + 1).Select(y => (double)y)];

    private static Axis Time => new("Years from the decision") { WholeNumbers = true, FromZero = true };

    private static Axis MoneyAxis(string label, string currency, double largest) =>
        largest >= 20000.0 ? new(label, $"1000 {currency}") : new(label, currency);

    private static double Scale(double largest) => largest >= 20000.0 ? 1e-3 : 1.0;

    private static Figure Bands(OwnershipResult study)
    {
        var x = Years(study);
        var shown = study.Present.Options.Take(MostOptions).ToArray();
        double largest = shown.Max(o => Math.Abs(o.Quantile(study.Years, 0.95).Get())), scale = Scale(largest);
        ImmutableArray<double> At(OptionMoney o, double p) => [.. x.Select(y => scale * o.Quantile((int)y, p).Get())];
        return new Figure
        {
            Title = "What has each option cost, year by year?",
            Subtitle = $"Discounted cost so far: median, band 5 to 95 % of futures (cells, worlds, prices). {Sample(study)}.",
            X = Time,
            Y = MoneyAxis("Discounted cost so far", study.Currency, largest) with { FromZero = true },
            Layers =
            [
                .. shown.Select((o, i) => (Layer)new Band(x, At(o, 0.05), At(o, 0.95), null, Tones[i])),
                .. shown.Select((o, i) => (Layer)new Line(x, At(o, 0.5), o.Label, Tones[i])),
            ],
        };
    }

    private static Figure Difference(OwnershipResult study)
    {
        var (pair, x) = (study.Pair, Years(study));
        double largest = pair.Quantiles.Max(q => q.Max(e => Math.Abs(e.Value ?? 0.0))), scale = Scale(largest);
        ImmutableArray<double> At(int k) => [.. pair.Quantiles.Select(q => scale * (q[k].Value ?? 0.0))];
        string Verdict() => pair.Mean[^1] switch
        {
            { Upper95: < 0.0 } => $"{pair.Option.Label} is cheaper in the mean. ",
            { Lower95: > 0.0 } => $"{pair.Option.Label} is dearer in the mean. ",
            _ => "",
        };
        return new Figure
        {
            Title = $"How much more has {pair.Option.Label} cost than {pair.Other.Label}?",
            Subtitle = $"{Verdict()}Difference future by future: median, band 5 to 95 %, mean dashed. {Sample(study)}.",
            X = Time,
            Y = MoneyAxis($"Discounted cost so far, {pair.Option.Label} less {pair.Other.Label}", study.Currency, largest) with { FromZero = true },
            Layers =
            [
                new Band(x, At(0), At(2), "5 to 95 %"),
                new Line(x, At(1), "median"),
                new Line(x, [.. pair.Mean.Select(m => scale * (m.Value ?? 0.0))], "mean", Tone.Second),
                new Target(Along.Y, 0.0, $"below 0: {pair.Option.Label} cheaper"),
            ],
        };
    }

    private static Figure Chance(OwnershipResult study)
    {
        // Nothing is ahead before anything has run.
        var (pair, x) = (study.Pair, Years(study)[1..]);
        ImmutableArray<double> Value(ImmutableArray<Estimate> e) => [.. e.Skip(1).Select(v => 100.0 * (v.Value ?? 0.0))];
        var layers = ImmutableArray.CreateBuilder<Layer>();
        layers.Add(new Band(x, [.. pair.Ahead.Skip(1).Select(v => 100.0 * (v.Lower95 ?? 0.0))], [.. pair.Ahead.Skip(1).Select(v => 100.0 * (v.Upper95 ?? 0.0))]));
        layers.Add(new Line(x, Value(pair.Ahead), "all futures"));
        if (pair.AheadBothHold.All(a => a.Value is not null) && pair.BothHold.Value is < 1.0)
        {
            layers.Insert(1, new Band(x, [.. pair.AheadBothHold.Skip(1).Select(v => 100.0 * (v.Lower95 ?? v.Value ?? 0.0))], [.. pair.AheadBothHold.Skip(1).Select(v => 100.0 * (v.Upper95 ?? v.Value ?? 0.0))], null, Tone.Second));
            layers.Add(new Line(x, Value(pair.AheadBothHold), "both hold the window", Tone.Second));
        }

        layers.Add(new Target(Along.Y, 50.0, "even odds"));
        return new Figure
        {
            Title = $"How likely is {pair.Option.Label} ahead of {pair.Other.Label}, by year?",
            Subtitle = $"Share of futures in which it has cost less so far; bands: 95 % intervals. {Sample(study)}.",
            X = Time,
            Y = new Axis("Futures in which it is ahead", "%") { From = 0.0, To = 100.0 },
            Layers = layers.ToImmutable(),
        };
    }

    private static Figure? Breakdown(OwnershipResult study)
    {
        OptionMoney[] shown = [study.Reference, study.Challenger];
        var kinds = CostKinds.All.Select(k => (Kind: k, Cost: shown.Select(o => o.OfKind(k)).ToArray())).Where(k => k.Cost.Any(c => c.Value is { } v && v != 0.0))
            .OrderByDescending(k => k.Cost.Max(c => Math.Abs(c.Value ?? 0.0))).Take(MostBars / 2).ToArray();
        if (kinds.Length == 0)
        {
            return null;
        }

        double largest = kinds.Max(k => k.Cost.Max(c => Math.Abs(c.Value ?? 0.0))), scale = Scale(largest);
        bool wraps = kinds.Any(k => shown.Any(o => CostKinds.ShortName(k.Kind).Length + o.Label.Length > 26)); // names of two lines need the room of two
        Bar One(CostKind kind, OptionMoney option, Estimate cost, Tone tone) => new($"{CostKinds.ShortName(kind)}: {option.Label}", scale * cost.Value!.Value, OwnershipWords.Short(cost, study.Currency))
        {
            Lower = scale * cost.Lower95, Upper = scale * cost.Upper95, Tone = tone,
        };
        return new Figure
        {
            Title = "What is the money spent on?",
            Subtitle = $"Mean discounted cost over {study.Years} years of {study.Reference.Label} and {study.Challenger.Label}, the largest kinds; whiskers: 95 % intervals. {Sample(study)}.",
            X = MoneyAxis("Mean discounted cost", study.Currency, largest) with { FromZero = true },
            Y = new Axis("Kind of cost"),
            Height = 220 + ((wraps ? 76 : 44) * kinds.Length),
            Layers = [new Bars([.. kinds.SelectMany(k => new[] { One(k.Kind, shown[0], k.Cost[0], Tone.First), One(k.Kind, shown[1], k.Cost[1], Tone.Second) })])],
        };
    }

    private static Figure? Flips(OwnershipResult study)
    {
        var rows = study.WhatIf.Rows.Where(r => r.Swing > 0.0).Take(MostInputs).Reverse().ToArray();
        if (rows.Length < 2)
        {
            return null;
        }

        double largest = rows.Max(r => Math.Max(Math.Abs(r.AtLow!.Get()), Math.Abs(r.AtHigh!.Get()))), scale = Scale(largest);
        Line? Interval(Estimate at, double height, Tone tone) =>
            at is { Lower95: { } low, Upper95: { } high } && high > low ? new Line([scale * low, scale * high], [height, height], null, tone) : null;
        ImmutableArray<double> places = [.. Enumerable.Range(0, rows.Length).Select(i => (double)i)];
        var pair = study.Pair;
        return new Figure
        {
            Title = "Which inputs would turn the decision?",
            Subtitle = $"Mean of {pair.Option.Label} less {pair.Other.Label} with one input at its 10th and its 90th percentile, all else as it is. "
                + $"{study.WhatIf.Turning.Count(t => t.Outcome == Outcome.Other)} of {study.WhatIf.Rows.Count(r => r.AtLow is not null)} turn it.",
            Note = "Bars: 95 % intervals." + (study.WhatIf.Rows.Any(r => r.Physical) ? $" Prices are changed in the same lifetimes; unknowns of the cell are simulated again over fewer lifetimes, whose own mean is {OwnershipWords.Short(study.WhatIf.Smaller, study.Currency)}." : ""),
            X = MoneyAxis("Mean difference of discounted cost", study.Currency, largest) with { FromZero = true },
            Y = new Axis("Input") { Names = [.. rows.Select(r => $"{OwnershipWords.Input(r.Path)}, {r.Options}")] },
            Height = 200 + (32 * rows.Length),
            Layers =
            [
                .. rows.Select((r, i) => (Layer)new Line([scale * r.AtLow!.Get(), scale * r.AtHigh!.Get()], [i, i], null, Tone.Quiet)),
                .. rows.SelectMany((r, i) => new[] { Interval(r.AtLow!, i + 0.2, Tone.First), Interval(r.AtHigh!, i - 0.2, Tone.Second) }.OfType<Layer>()),
                new Points([.. rows.Select(r => scale * r.AtLow!.Get())], places, "10th percentile", Tone.First),
                new Points([.. rows.Select(r => scale * r.AtHigh!.Get())], places, "90th percentile", Tone.Second),
                new Target(Along.X, 0.0, $"left: {pair.Option.Label} is cheaper"),
            ],
        };
    }
}
