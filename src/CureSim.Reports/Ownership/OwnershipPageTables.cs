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
            CostKinds.All.Select(k => (Kind: k, Mean: pair.ByKind[(int)k])).Where(k => k.Mean.Value is { } v && v != 0.0).OrderByDescending(k => Math.Abs(k.Mean.Value!.Value))
                .Select(k => (string[])[Capital(CostKinds.Name(k.Kind)), OwnershipWords.Money(pair.Other.OfKind(k.Kind), study.Currency), OwnershipWords.Money(pair.Option.OfKind(k.Kind), study.Currency), OwnershipWords.MoreOrLess(k.Mean, study.Currency)]))
            with { File = "tables/differences_by_kind.csv" };
    }

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
            Capital(OwnershipWords.Input(r.Path)), r.Options, At(r.Mean, r), At(r.Low, r), At(r.High, r), There(r.AtLow), There(r.AtHigh),
            r.AtLow is null ? "–" : OwnershipWords.Decision(r, study.WhatIf), r.BreakEven is { } even && even <= FarthestEven * r.Mean ? At(even, r) : "–",
        ])).ToArray();
        return PageTable.OfTexts(["Input", "Of", "Mean", "10th percentile", "90th percentile", "Difference at the 10th", "Difference at the 90th", "Decision", "Even at"], all.Take(PageTable.MostRows))
            with { File = "tables/what_if.csv", Total = all.Length };
    }

    private static string Capital(string text) => text.Length == 0 ? text : char.ToUpperInvariant(text[0]) + text[1..];
}
