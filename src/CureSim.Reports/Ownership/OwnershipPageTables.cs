using CureSim.Core.Statistics;
using CureSim.Reports.Pages;
using CureSim.Reports.Text;
using CureSim.Studies.Ownership;

namespace CureSim.Reports.Ownership;

/// <summary>Tables of the ownership study as its report shows them: names, trade units and "more" or "less" in place of a sign; every digit stands in the files that they name.</summary>
internal static class OwnershipPageTables
{
    // A price at which the options would be even only when it is a thousand times what it is tells nothing.
    private const double FarthestEven = 1000.0;

    /// <summary>The difference by kind of cost.</summary>
    public static PageTable ByKind(OwnershipResult study)
    {
        var pair = study.Pair;
        return PageTable.OfTexts(
            ["Kind of cost", .. new[] { pair.Other, pair.Option }.Select(o => o.Label), $"{pair.Option.Label} pays"],
            CostKinds.All.Select(k => (Kind: k, Mean: pair.ByKind[(int)k])).Where(k => k.Mean.Value is { } v && Math.Abs(v) > Dust * (pair.Other.OfKind(k.Kind).Value ?? 0.0)).OrderByDescending(k => Math.Abs(k.Mean.Value!.Value))
                .Select(k => (string[])[PlainText.Capital(CostKinds.Name(k.Kind)), Paid(pair.Other.OfKind(k.Kind), study.Currency), Paid(pair.Option.OfKind(k.Kind), study.Currency), OwnershipWords.MoreOrLess(k.Mean, study.Currency)]))
            with { File = "tables/differences_by_kind.csv" };
    }

    // What comes back, such as a residual value, is told in words: a cost below nothing is read as a slip.
    private static string Paid(Estimate e, string currency) => e.Value < 0.0 ? OwnershipWords.Money(OwnershipWords.Magnitude(e), currency) + " received" : OwnershipWords.Money(e, currency);

    /// <summary>One input at a time.</summary>
    public static PageTable WhatIf(OwnershipResult study)
    {
        var rows = study.WhatIf.Rows;
        string At(double? value, WhatIfRow row) => value is { } v ? OwnershipWords.ValueOf(row, v, study) : "–";
        string There(Estimate? there) => there is null ? "–" : OwnershipWords.MoreOrLess(there, study.Currency);
        var first = new List<string[]> { new[] { "Nothing, as it is", "–", "–", "–", "–", There(study.WhatIf.Decision), There(study.WhatIf.Decision), "–", "–" } };
        if (study.WhatIf.Smaller.Value is not null)
        {
            first.Add(["Nothing, the lifetimes simulated again", "–", "–", "–", "–", There(study.WhatIf.Smaller), There(study.WhatIf.Smaller), "–", "–"]);
        }

        var all = first.Concat(rows.Select(r => (string[])
        [
            PlainText.Capital(OwnershipWords.Input(r.Path)), r.Options, At(r.Mean, r), At(r.Low, r), At(r.High, r), There(r.AtLow), There(r.AtHigh),
            r.AtLow is null ? "–" : OwnershipWords.Decision(r, study.WhatIf), r.BreakEven is { } even && even <= FarthestEven * r.Mean ? At(even, r) : "–",
        ])).ToArray();
        return PageTable.OfTexts(["Input", "Of", "Mean", "10th percentile", "90th percentile", "Difference at the 10th", "Difference at the 90th", "Decision", "Even at"], all.Take(PageTable.MostRows))
            with { File = "tables/what_if.csv", Total = all.Length };
    }

    /// <summary>What the change may cost, with the routine of today and with each option's own.</summary>
    public static PageTable Affordable(OwnershipResult study)
    {
        var pairs = new[] { (Routine: "As it is", study.Pair), (Routine: "Each at its own", Pair: study.OwnPair!) }.Where(x => x.Pair is not null);
        return PageTable.OfTexts(
            ["Checks", $"{study.Challenger.Label} takes at the start", "May take for even odds of being ahead", "May take for odds of nine in ten", "Both hold the window"],
            pairs.Select(x => (string[])[x.Routine, OwnershipWords.MoreOrLess(x.Pair.ExtraAtStart, study.Currency), OwnershipWords.MoreOrLess(x.Pair.AffordableAt50, study.Currency), OwnershipWords.MoreOrLess(x.Pair.AffordableAt90, study.Currency),
                x.Pair.BothHold.Value is null ? "not known" : OwnershipWords.Chance(x.Pair.BothHold)])) with { File = "tables/affordable_change.csv" };
    }

    /// <summary>Timings of checks that were tried.</summary>
    public static PageTable Routines(OwnershipResult study)
    {
        string[][] rows =
        [
            .. study.Routines.SelectMany(search => search.Candidates.Select(t => (string[])
            [
                search.Option.Label, t.Timing.Name, Format.Value(100.0 * t.Reliability, "%", 4), t.Ppm is not { } ppm ? "–" : ppm < OwnershipWords.LeastPpm ? OwnershipWords.Ppm(Estimate.Exact(0.0)) : Format.Value(ppm, "ppm", 3),
                t.Meets ? "reached" : "missed", t.Timing == search.Timing ? "chosen" : "–", OwnershipWords.Money(t.Cost, study.Currency),
            ])),
        ];
        return PageTable.OfTexts(["Option", "Check every", "In tolerance, unfavourable end", "Nonconforming parts, unfavourable end", "Requirement", "Cheapest that reaches it", "Discounted running cost"], rows.Take(PageTable.MostRows))
            with { File = "tables/routines.csv", Total = rows.Length };
    }

    /// <summary>Every number of sites.</summary>
    public static PageTable Sites(SitesSweep sweep)
    {
        var rows = new List<string[]>();
        foreach (var point in sweep.Points)
        {
            for (int i = 0; i < sweep.Labels.Length; i++)
            {
                if (point.Options[i] is not { } o)
                {
                    rows.Add([Format.Count(point.Sites), sweep.Labels[i], $"cannot be: {point.Why[i]}", "–", "–", "–", "–", "–", "–"]);
                    continue;
                }

                string currency = o.Run.Scenario.Costs!.Currency;
                string futures = o.Quantile(o.Run.Years, 0.05).Value is { } low && o.Quantile(o.Run.Years, 0.95).Value is { } high ? $"{Format.Value(low, null, 3)} to {Format.Value(high, currency, 3)}" : "–";
                rows.Add([
                    Format.Count(point.Sites), sweep.Labels[i] + (o == point.Best ? " (cheapest that holds)" : ""), OwnershipWords.Money(o.Mean(o.Run.Years), currency), futures,
                    o.PerGoodPart.Value is null ? "–" : OwnershipWords.Amount(o.PerGoodPart, currency), OwnershipWords.Ppm(o.Ppm), o.HoldsWindow switch { true => "yes", false => "no", _ => "not known" }, OwnershipWords.Amount(o.MeanOf(c => c.Emitters), null), OwnershipWords.Amount(o.Use(UseKind.Requalifications), null),
                ]);
            }
        }

        return PageTable.OfTexts(["Sites", "Option", "Cost", "In nine of ten futures", "A good part", "Nonconforming parts", "Holds the window", "Emitters replaced", "Requalifications"], rows.Take(PageTable.MostRows))
            with { File = "tables/sites.csv", Total = rows.Count };
    }

    // What rounding leaves of a difference that is nothing.
    private const double Dust = 1e-9;
}
