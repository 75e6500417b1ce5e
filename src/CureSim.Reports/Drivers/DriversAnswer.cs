using CureSim.Core.Statistics;
using CureSim.Reports.Runs;
using CureSim.Reports.Text;
using CureSim.Studies.Drivers;

namespace CureSim.Reports.Drivers;

/// <summary>The answer of the drivers study in about ten lines for a terminal.</summary>
public static class DriversAnswer
{
    private const int Named = 4;

    /// <summary>What was simulated.</summary>
    public static string Heading(DriversResult study)
    {
        ArgumentNullException.ThrowIfNull(study);
        var table = study.WhatIf.Scenario.Run;
        string worlds = table.Worlds > 1 ? $"{Format.Count(table.Worlds)} worlds × " : "";
        return $"{study.Scenario.Name}: {study.WhatIf.Rows.Length} changes, each over the same {worlds}{Format.Count(table.LifetimesPerWorld)} lifetimes; indices at {Format.Count(study.Indices.Points)} points, seed {table.Seed}";
    }

    /// <summary>The lines.</summary>
    public static IReadOnlyList<AnswerLine> Of(DriversResult study)
    {
        ArgumentNullException.ThrowIfNull(study);
        var lines = new List<AnswerLine> { First(study) };
        if (Means(study) is { } means)
        {
            lines.Add(means);
        }

        string[] others = [.. Others(study)];
        if (others.Length > 0)
        {
            lines.Add(new("the most for", string.Join("; ", others)));
        }

        var any = study.Indices.Moments[0];
        if (any.Indices is not null)
        {
            string Rank(IEnumerable<(string Name, Estimate Index)> all) => string.Join(", ", all.OrderByDescending(x => x.Index.Value).Take(Named).Select(x => $"{x.Name} {DriversWords.Index(x.Index)}"));
            lines.Add(new("dose, alone", $"first-order index {Rank(any.RankedQuantities.Select(r => (r.Group.Name, r.Index.First)))}"));
            lines.Add(new("dose, in all", $"total index {Rank(any.RankedQuantities.Select(r => (r.Group.Name, r.Index.Total)))}"));
            lines.Add(new("dose by level", $"first-order index {Rank(any.RankedLevels.Select(r => (r.Group.Name, r.Index.First)))}"));
        }
        else
        {
            lines.Add(new("dose", "varies in no lifetime, or in too few for indices"));
        }

        foreach (var importance in study.Importances)
        {
            lines.Add(Ranking(importance));
        }

        string[] together = [.. any.Quantities.Where(q => q.Name.EndsWith("correlated)", StringComparison.Ordinal)).Select(q => q.Name)];
        if (together.Length > 0)
        {
            lines.Add(new("one input each", $"{string.Join("; ", together)}: their errors go together, so indices and importance cannot part them; the what-if table changes one and keeps the correlation"));
        }

        lines.Add(new("brackets", "(…) 95 % Monte-Carlo intervals, of changes over the same lifetimes; importance ± the spread of one permutation; importance tells what predicts, not what causes"));
        return lines;
    }

    private static AnswerLine First(DriversResult study)
    {
        var table = study.WhatIf;
        var halved = table.Halved.Where(r => r.Changes[0].Value is not null).ToArray();
        string index = $"{DriversWords.NameOf(table.Measures[0])} of {DriversWords.Response(study)}";
        if (table.Base[0].Value is not { } before)
        {
            return new("answer", $"withheld: {table.Base[0].Withheld}");
        }

        if (halved.Length == 0)
        {
            return new("answer", "nothing varies whose spread could be halved");
        }

        var best = halved[0];
        if (!(best.Changes[0].Lower95 > 0.0))
        {
            return new("answer", $"no single spread, halved, is seen to raise {index} from {Format.Value(before, null, 3)}: the largest change is {DriversWords.Deed(best.Variant)}, {DriversWords.Signed(best.Changes[0])}");
        }

        string next = halved.Length > 1 ? $"; no other spread, halved, raises it by more than {Format.Value(Math.Max(0.0, halved[1].Changes[0].Value!.Value), null, 2)} ({halved[1].Variant.Input})" : "";
        string alike = halved.Length > 1 && best.Changes[0].Lower95 < halved[1].Changes[0].Upper95 ? ", which is not told apart" : "";
        return new(
            "answer",
            $"{DriversWords.Deed(best.Variant)}: {index} from {Format.Value(before, null, 3)} to {Format.Value(before + best.Changes[0].Value!.Value, null, 3)}, change {DriversWords.Signed(best.Changes[0])}{Beside(table, best)}{next}{alike}",
            AnswerTone.Met);
    }

    private static string Beside(WhatIf table, WhatIfRow row)
    {
        var parts = new List<string>();
        for (int i = 1; i < table.Measures.Length; i++)
        {
            if (row.Changes[i].Value is { } change && table.Base[i].Value is { } before)
            {
                string told = WhatIfRow.IsToldApart(row.Changes[i]) ? "" : " (not told apart)";
                parts.Add($"{DriversWords.NameOf(table.Measures[i])} {Format.Value(before, null, 3)} to {Format.Value(before + change, DriversWords.UnitOf(table.Measures[i]), 3)}{told}");
            }
        }

        return parts.Count == 0 ? "" : "; " + string.Join(", ", parts);
    }

    private static AnswerLine? Means(DriversResult study)
    {
        var moved = study.WhatIf.Rows.Where(r => r.Variant.Action != VariantAction.Halved && r.Changes[0].Value is not null).ToArray();
        return moved.FirstOrDefault() is { } best && best.Changes[0].Lower95 > 0.0
            ? new("of the means", $"{DriversWords.Deed(best.Variant)}: Ppk {DriversWords.Signed(best.Changes[0])}{Beside(study.WhatIf, best)}")
            : null;
    }

    private static IEnumerable<string> Others(DriversResult study)
    {
        var table = study.WhatIf;
        for (int i = 1; i < table.Measures.Length; i++)
        {
            var measure = table.Measures[i];
            int sign = DriversWords.MoreIsBetter(measure) ? 1 : -1;
            var best = table.Halved.Where(r => r.Changes[i].Value is { } v && v * sign > 0.0 && WhatIfRow.IsToldApart(r.Changes[i])).MaxBy(r => r.Changes[i].Value * sign);
            if (best is not null)
            {
                yield return $"{DriversWords.NameOf(measure)}: {DriversWords.Deed(best.Variant)}, {DriversWords.Signed(best.Changes[i], DriversWords.UnitOf(measure))}";
            }
        }
    }

    private static AnswerLine Ranking(Importance importance)
    {
        string label = importance.Id == "time_to_requalify" ? "requalify hangs on" : "bad parts hang on";
        if (importance.Withheld is { } reason)
        {
            return new(label, $"ranking withheld: {reason}");
        }

        string Spread(Estimate drop) => $"{Format.Fixed(drop.Value!.Value, 2)} ± {Format.Fixed(drop.StandardError ?? 0.0, 2)}";
        return new(label, string.Join(", ", importance.Inputs.Take(Named).Select(i => $"{i.Input} {Spread(i.Drop)}")) + $" (drop of R² of {Format.Value(importance.RSquared.Value!.Value, null, 2)} when dealt out anew)");
    }
}
