using CureSim.Core.Statistics;
using CureSim.Reports.Tables;
using CureSim.Studies.Ownership;

namespace CureSim.Reports.Ownership;

/// <summary>The tables of the ownership study. Money is discounted to the start unless a header says otherwise.</summary>
public static class OwnershipTables
{
    /// <summary>Tables for files.</summary>
    public static IEnumerable<Table> Of(OwnershipResult study)
    {
        ArgumentNullException.ThrowIfNull(study);
        var sets = study.Own is { } own ? new[] { ("present", study.Present), ("own cheapest", own) } : [("present", study.Present)];
        yield return Options(study, sets);
        yield return ByYear(sets);
        yield return ByKind(sets);
        yield return Differences(sets);
        yield return DifferencesByKind(sets);
        yield return Payback(sets);
        yield return Affordable(sets);
        yield return WhatIf(study);
        if (!study.Routines.IsEmpty)
        {
            yield return Routines(study);
        }
    }

    private static Table Options(OwnershipResult study, (string Routine, Comparison Set)[] sets)
    {
        var table = new Table("options",
        [
            Text("routine"), Text("option"), Text("installed"), Text("checks_every"), .. Estimated("cost_total"), .. Estimated("cost_p05"), .. Estimated("cost_p50"), .. Estimated("cost_p95"),
            .. Estimated("paid_at_start"), .. Estimated("cost_per_good_part"), .. Estimated("cost_per_good_part_p05"), .. Estimated("cost_per_good_part_p50"), .. Estimated("cost_per_good_part_p95"),
            .. Estimated("nonconforming_ppm"), Number("nonconforming_unfavourable_ppm"), Number("nonconforming_limit_ppm"), .. Estimated("lifetimes_that_hold_percent"), Text("holds_the_window"), .. Estimated("in_tolerance_percent"),
            .. Estimated("energy_kwh"), .. Estimated("source_energy_kwh"), .. Estimated("emission_kg_co2e"), Text("emission_year"), .. Estimated("emitters"), .. Estimated("mercury_emitters"), .. Estimated("guides"),
            .. Estimated("checks"), .. Estimated("requalifications"), .. Estimated("years_to_change"), Text("currency"),
        ]);
        foreach (var (routine, set) in sets)
        {
            foreach (var o in set.Options)
            {
                int years = study.Years;
                var option = o.Run.Scenario.Ownership!;
                table.Add(
                [
                    routine, o.Label, o.Run.Option.Installed ? "yes" : "no", Timing(o), .. Cells(o.Mean(years)), .. OptionPair.Bands.SelectMany(p => Cells(o.Quantile(years, p))),
                    .. Cells(o.Start), .. Cells(o.PerGoodPart), .. OptionPair.Bands.SelectMany(p => Cells(o.PerGoodPartQuantile(p))),
                    .. Cells(o.Ppm), o.PpmUnfavourable, 1e6 * o.Run.Option.NonconformingLimit, .. Cells(o.HoldsShare, 100.0), o.HoldsWindow switch { true => "yes", false => "no", _ => "not known" },
                    .. Cells(o.Run.Figures.Find(Studies.Interval.IntervalMeasures.InTolerance)?.Estimate),
                    .. Cells(o.MeanOf(c => c.Energy)), .. Cells(o.MeanOf(c => c.SourceEnergy)), .. Cells(o.MeanOf(c => c.Emission)), option.EmissionYear is { } y ? FormattableString.Invariant($"{y}") : (string?)null,
                    .. Cells(o.MeanOf(c => c.Emitters)), .. Cells(o.MeanOf(c => c.MercuryEmitters)), .. Cells(o.MeanOf(c => c.Guides)),
                    .. Cells(o.Use(UseKind.Checks)), .. Cells(o.Use(UseKind.Requalifications)), .. Cells(o.MeanOf(c => c.ChangeYears)), study.Currency,
                ]);
            }
        }

        return table;
    }

    private static Table ByYear((string Routine, Comparison Set)[] sets)
    {
        var table = new Table("cost_by_year",
            [Text("routine"), Text("option"), Whole("year"), .. Estimated("cost_so_far"), .. Estimated("cost_so_far_p05"), .. Estimated("cost_so_far_p50"), .. Estimated("cost_so_far_p95")]);
        foreach (var (routine, set) in sets)
        {
            foreach (var o in set.Options)
            {
                for (int y = 0; y <= o.Run.Years; y++)
                {
                    table.Add([routine, o.Label, y, .. Cells(o.Mean(y)), .. OptionPair.Bands.SelectMany(p => Cells(o.Quantile(y, p)))]);
                }
            }
        }

        return table;
    }

    private static Table ByKind((string Routine, Comparison Set)[] sets)
    {
        var table = new Table("cost_by_kind", [Text("routine"), Text("option"), Text("kind"), Text("meaning"), .. Estimated("cost"), Number("cost_p05"), Number("cost_p95")]);
        foreach (var (routine, set) in sets)
        {
            foreach (var o in set.Options)
            {
                foreach (var kind in CostKinds.All)
                {
                    table.Add([routine, o.Label, CostKinds.Id(kind), CostKinds.Name(kind), .. Cells(o.OfKind(kind)), o.OfKind(kind, 0.05).Value, o.OfKind(kind, 0.95).Value]);
                }
            }
        }

        return table;
    }

    private static Table Differences((string Routine, Comparison Set)[] sets)
    {
        var table = new Table("differences_by_year",
        [
            Text("routine"), Text("option"), Text("against"), Whole("year"), .. Estimated("difference"), .. Estimated("difference_p05"), .. Estimated("difference_p50"), .. Estimated("difference_p95"),
            .. Estimated("chance_ahead_percent"), .. Estimated("chance_ahead_when_both_hold_percent"), Text("withheld"),
        ]);
        Each(sets, (routine, pair) =>
        {
            for (int y = 0; y < pair.Mean.Length; y++)
            {
                table.Add([routine, pair.Option.Label, pair.Other.Label, y, .. Cells(pair.Mean[y]), .. pair.Quantiles[y].SelectMany(q => Cells(q)), .. Cells(pair.Ahead[y], 100.0), .. Cells(pair.AheadBothHold[y], 100.0), pair.AheadBothHold[y].Withheld]);
            }
        });
        return table;
    }

    private static Table DifferencesByKind((string Routine, Comparison Set)[] sets)
    {
        var table = new Table("differences_by_kind", [Text("routine"), Text("option"), Text("against"), Text("kind"), .. Estimated("difference")]);
        Each(sets, (routine, pair) =>
        {
            foreach (var kind in CostKinds.All)
            {
                table.Add([routine, pair.Option.Label, pair.Other.Label, CostKinds.Id(kind), .. Cells(pair.ByKind[(int)kind])]);
            }
        });
        return table;
    }

    private static Table Payback((string Routine, Comparison Set)[] sets)
    {
        var table = new Table("payback", [Text("routine"), Text("option"), Text("against"), Text("ahead_for_good_from_year"), .. Estimated("chance_percent")]);
        Each(sets, (routine, pair) =>
        {
            for (int y = 0; y < pair.Payback.Length; y++)
            {
                table.Add([routine, pair.Option.Label, pair.Other.Label, y == pair.Payback.Length - 1 ? "never" : FormattableString.Invariant($"{y}"), .. Cells(pair.Payback[y], 100.0)]);
            }
        });
        return table;
    }

    private static Table Affordable((string Routine, Comparison Set)[] sets)
    {
        var table = new Table("affordable_change",
        [
            Text("routine"), Text("option"), Text("against"), .. Estimated("extra_at_start"), .. Estimated("affordable_at_50_percent"), .. Estimated("affordable_at_90_percent"), Number("even_percent"),
            .. Estimated("both_hold_percent"),
        ]);
        Each(sets, (routine, pair) => table.Add(
            [routine, pair.Option.Label, pair.Other.Label, .. Cells(pair.ExtraAtStart), .. Cells(pair.AffordableAt50), .. Cells(pair.AffordableAt90), 100.0 * pair.Even, .. Cells(pair.BothHold, 100.0)]));
        return table;
    }

    private static Table WhatIf(OwnershipResult study)
    {
        var table = new Table("what_if",
        [
            Text("input"), Text("of"), Text("by"), Number("mean"), Number("at_p10"), Number("at_p90"), .. Estimated("difference_at_p10"), .. Estimated("difference_at_p90"), Text("decision"), Number("break_even"),
        ]);
        void Add(string input, string of, string by, WhatIfRow? row, Estimate? low, Estimate? high, string? decision) =>
            table.Add([input, of, by, row?.Mean, row?.Low, row?.High, .. Cells(low), .. Cells(high), decision, row?.BreakEven]);
        Add("nothing", $"{study.Challenger.Label} less {study.Reference.Label}", "as it is", null, study.WhatIf.Decision, study.WhatIf.Decision, null);
        if (study.WhatIf.Smaller.Value is not null)
        {
            Add("nothing", $"{study.Challenger.Label} less {study.Reference.Label}", "the lifetimes simulated again", null, study.WhatIf.Smaller, study.WhatIf.Smaller, null);
        }

        foreach (var row in study.WhatIf.Rows)
        {
            Add(row.Path, row.Options, row.Physical ? "simulated again" : "repriced", row, row.AtLow, row.AtHigh, row.AtLow is null ? null : OwnershipWords.Decision(row, study.WhatIf));
        }

        return table;
    }

    private static Table Routines(OwnershipResult study)
    {
        var table = new Table("routines",
            [Text("option"), Text("checks_every"), Number("interval_hours"), Text("meets"), Text("chosen"), Number("in_tolerance_unfavourable_percent"), Number("ppm_unfavourable"), .. Estimated("running_cost")]);
        foreach (var search in study.Routines)
        {
            foreach (var t in search.Candidates)
            {
                double hours = t.Timing.IntervalSteps * search.Option.Scenario.Production.StepSeconds / 3600.0;
                table.Add([search.Option.Label, t.Timing.Name, hours, t.Meets ? "yes" : "no", t.Timing == search.Timing ? "yes" : "no", 100.0 * t.Reliability, t.Ppm, .. Cells(t.Cost)]);
            }
        }

        return table;
    }

    internal static string? Timing(OptionMoney o) => o.Run.Scenario.Checks is { } c
        ? FormattableString.Invariant($"{c.IntervalSteps * o.Run.Scenario.Production.StepSeconds / 3600.0:0.##} h{(c.AreUneven ? " and uneven" : "")}") : null;

    internal static IEnumerable<Cell> Cells(Estimate? e, double factor = 1.0) => [factor * e?.Value, factor * e?.Lower95, factor * e?.Upper95];

    internal static IEnumerable<Column> Estimated(string header) => [Number(header), Number(header + "_lower95"), Number(header + "_upper95")];

    internal static Column Text(string header) => new(header, ColumnKind.Text);

    internal static Column Number(string header) => new(header, ColumnKind.Number);

    internal static Column Whole(string header) => new(header, ColumnKind.Whole);

    // Every option against every other, both ways round.
    private static void Each((string Routine, Comparison Set)[] sets, Action<string, OptionPair> act)
    {
        foreach (var (routine, set) in sets)
        {
            foreach (var option in set.Options)
            {
                foreach (var other in set.Options.Where(o => o != option))
                {
                    act(routine, set.Pair(option, other));
                }
            }
        }
    }
}
