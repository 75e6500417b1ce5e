using CureSim.Core.Statistics;
using CureSim.Reports.Runs;
using CureSim.Reports.Text;
using CureSim.Studies.Drivers;

namespace CureSim.Reports.Drivers;

/// <summary>The answer of the drivers study in about ten lines for a terminal; all else stands in the tables and figures.</summary>
public static class DriversAnswer
{
    /// <summary>Letters of a ranking: two lines beside the labels in a hundred columns.</summary>
    private const int Room = 174;

    /// <summary>What was simulated.</summary>
    public static string Heading(DriversResult study)
    {
        ArgumentNullException.ThrowIfNull(study);
        var table = study.WhatIf.Scenario.Run;
        string worlds = table.Worlds > 1 ? $"{Format.Count(table.Worlds)} worlds × " : "";
        return $"{study.Scenario.Name}: {study.WhatIf.Rows.Length} changes over {worlds}{Format.Count(table.LifetimesPerWorld)} lifetimes, indices at {Format.Count(study.Indices.Points)} points, seed {table.Seed}";
    }

    /// <summary>The answer in a sentence, without its full stop.</summary>
    public static string Sentence(DriversResult study)
    {
        ArgumentNullException.ThrowIfNull(study);
        var table = study.WhatIf;
        if (Refused(table) is { } reason)
        {
            return reason;
        }

        var best = table.Halved.First();
        string index = $"{DriversWords.NameOf(table.Measures[0])} of {DriversWords.Response(study)}", deed = DriversWords.Deed(best.Variant), change = DriversWords.Signed(best.Changes[0]);
        double before = table.Base[0].Get();
        return best.Changes[0].Lower95 > 0.0
            ? $"{deed}: {index} from {Format.Value(before, null, 3)} to {Format.Value(before + best.Changes[0].Get(), null, 3)}, change {change}{Beside(table, best)}{(Next(table) is { } next ? "; next " + next : "")}"
            : $"no single spread, halved, is seen to raise {index} from {Format.Value(before, null, 3)}: the largest change is {deed}, {change}";
    }

    /// <summary>The lines.</summary>
    public static IReadOnlyList<AnswerLine> Of(DriversResult study)
    {
        ArgumentNullException.ThrowIfNull(study);
        var table = study.WhatIf;
        var lines = new List<AnswerLine> { First(study) };
        if (Refused(table) is null && table.Halved.First().Changes[0].Lower95 > 0.0 && Next(table) is { } next)
        {
            lines.Add(new("next", next));
        }

        lines.AddRange(Others(table));
        if (Means(table) is { } means)
        {
            lines.Add(means);
        }

        lines.AddRange(DriversWords.OneMean(table).Select(same => new AnswerLine("one mean", same.Brief)));

        var any = study.Indices.Moments[0];
        if (any.Indices is not null)
        {
            lines.Add(new("dose by input", Rank(any.RankedQuantities.Select(r => (r.Group.Name, r.Index.First)))));
            lines.Add(new("dose by level", Rank(any.RankedLevels.Select(r => (r.Group.Name, r.Index.First)))));
        }
        else
        {
            lines.Add(new("dose", "varies in no lifetime, or in too few for indices"));
        }

        lines.AddRange(study.Importances.Select(Ranking));
        int together = any.Quantities.Count(q => q.Name.EndsWith("correlated)", StringComparison.Ordinal));
        if (together > 0)
        {
            lines.Add(new("correlated", $"{Format.Count(together)} {(together == 1 ? "group" : "groups")} of unknowns, one input each in indices and importance"));
        }

        lines.Add(new("brackets", "(…) 95 % Monte-Carlo interval; dose: share of its variance; ± spread of the deals"));
        return lines;
    }

    private static string BriefDeed(Variant variant) => variant.Action == VariantAction.Halved && variant.Words != "half as often" ? $"halve {DriversWords.Short(variant)}" : DriversWords.Short(variant);

    // Why there is no answer; null when there is.
    private static string? Refused(WhatIf table) => table.Base[0].Value is null ? $"withheld: {table.Base[0].Withheld}"
        : table.Halved.FirstOrDefault()?.Changes[0].Value is null ? "nothing varies whose spread could be halved, or the change cannot be had" : null;

    private static AnswerLine First(DriversResult study)
    {
        var table = study.WhatIf;
        if (Refused(table) is { } reason)
        {
            return new("answer", reason);
        }

        var best = table.Halved.First();
        string index = $"{DriversWords.NameOf(table.Measures[0])} of {DriversWords.Response(study)}", deed = BriefDeed(best.Variant), change = DriversWords.Signed(best.Changes[0]);
        double before = table.Base[0].Get();
        return best.Changes[0].Lower95 > 0.0
            ? new("answer", $"{deed}: {index} {Format.Value(before, null, 3)} to {Format.Value(before + best.Changes[0].Get(), null, 3)}, {change}", AnswerTone.Met)
            : new("answer", $"no halved spread is seen to raise {index}, {Format.Value(before, null, 3)}; most: {deed}, {change}");
    }

    // The next best of the halved spreads, and whether the best is told apart from it.
    private static string? Next(WhatIf table)
    {
        if (table.Halved.Skip(1).FirstOrDefault() is not { } next || next.Changes[0].Value is null)
        {
            return null;
        }

        string apart = table.Lead is { } lead && WhatIfRow.IsSeen(lead) ? $"less by {FigureText.Of(lead)}" : "not told apart from it";
        return $"{BriefDeed(next.Variant)} {DriversWords.Signed(next.Changes[0])}, {apart}";
    }

    // What the change does to the other figures, as far as a change is seen.
    private static string Beside(WhatIf table, WhatIfRow row)
    {
        var parts = new List<string>();
        for (int i = 1; i < table.Measures.Length; i++)
        {
            if (row.Changes[i].Value is { } change && table.Base[i].Value is { } before && WhatIfRow.IsSeen(row.Changes[i]))
            {
                parts.Add($"{DriversWords.NameOf(table.Measures[i])} {Format.Value(before, null, 3)} to {Format.Value(before + change, table.Measures[i].Unit, 3)}");
            }
        }

        return parts.Count == 0 ? "" : "; " + string.Join(", ", parts);
    }

    private static AnswerLine? Means(WhatIf table)
    {
        var best = table.Rows.FirstOrDefault(r => r.Variant.Action != VariantAction.Halved && r.Changes[0].Value is not null);
        return best?.Changes[0].Lower95 > 0.0 ? new("of the means", $"{BriefDeed(best.Variant)}: Ppk {DriversWords.Signed(best.Changes[0])}") : null;
    }

    // The halved spread that does most for each of the other figures.
    private static IEnumerable<AnswerLine> Others(WhatIf table)
    {
        for (int i = 1; i < table.Measures.Length; i++)
        {
            var measure = table.Measures[i];
            int sign = DriversWords.MoreIsBetter(measure) ? 1 : -1;
            var best = table.Halved.Where(r => r.Changes[i].Value is { } v && v * sign > 0.0 && WhatIfRow.IsSeen(r.Changes[i])).MaxBy(r => r.Changes[i].Value * sign);
            string label = DriversWords.NameOf(measure) is "time without requalification" ? "requalify" : DriversWords.NameOf(measure);
            yield return new(label, best is not null ? $"{BriefDeed(best.Variant)}: {DriversWords.Signed(best.Changes[i], measure.Unit)}"
                : table.Base[i].Value is null ? "withheld (why: tables/what_if.csv)" : "no halved spread is seen to better it");
        }
    }

    // As many as fit into a line, one at least.
    private static string Fitting(IEnumerable<string> items, int room)
    {
        string text = "";
        foreach (string item in items)
        {
            if (text.Length > 0 && text.Length + 2 + item.Length > room)
            {
                break;
            }

            text += (text.Length > 0 ? ", " : "") + item;
        }

        return text;
    }

    private static string Rank(IEnumerable<(string Name, Estimate Index)> all) => Fitting(all.OrderByDescending(x => x.Index.Value).Select(x => $"{DriversWords.Name(x.Name)} {Hundredths(x.Index)}"), Room);

    private static string Hundredths(Estimate index) => index is { Value: { } v, Lower95: { } l, Upper95: { } u } ? $"{Format.Fixed(v, 2)} ({Format.Fixed(l, 2)} to {Format.Fixed(u, 2)})" : "withheld";

    private static AnswerLine Ranking(Importance importance)
    {
        string label = importance.Id == "time_to_requalify" ? "predict time" : "predict ppm";
        if (importance.Withheld is { } reason)
        {
            return new(label, importance.RSquared.Value is null ? reason : $"no ranking: R² {Hundredths(importance.RSquared)} on lifetimes not seen, {Format.Fixed(Importance.LeastRSquared, 1)} is asked for");
        }

        string first = $"R² {Format.Fixed(importance.RSquared.Value!.Value, 2)}, drops: ";
        return new(label, first + Fitting(importance.Inputs.Select(i => $"{DriversWords.Name(i.Input)} {Format.Fixed(i.Drop.Value!.Value, 2)} ± {Format.Fixed(i.Drop.StandardError ?? 0.0, 2)}"), Room - first.Length));
    }
}
