using CureSim.Core.Statistics;
using CureSim.Reports.Tables;
using CureSim.Studies.Assurance;

namespace CureSim.Reports.Assurance;

/// <summary>The tables of an assurance study.</summary>
public static class AssuranceTables
{
    /// <summary>Tables for files.</summary>
    public static IEnumerable<Table> Of(AssuranceStudy study)
    {
        ArgumentNullException.ThrowIfNull(study);
        yield return Rows(study);
        yield return Curves(study);
    }

    private static Table Rows(AssuranceStudy study)
    {
        string[] shares = ["pass", "not_good", "pass_and_not_good", "pass_if_not_good", "not_good_if_pass", "pass_if_good"];
        var table = new Table("assurance",
        [
            Text("plan"), Text("spread"), Whole("parts"), Whole("setups"), Whole("lots"), Whole("emitter_ages"), Text("good_over"), Number("claimed_nonconforming_percent"),
            Number("textbook_risk_percent"), Number("carried_out_percent"), Number("first_occasion_hours"), Number("last_occasion_hours"),
            .. shares.SelectMany(s => new[] { Number(s + "_percent"), Number(s + "_lower95_percent"), Number(s + "_upper95_percent") }),
            Number("equivalent_parts"), Number("equivalent_parts_lower95"), Number("equivalent_parts_upper95"), Text("withheld_because"),
        ]);
        foreach (var plan in study.Plans)
        {
            foreach (var row in plan.Rows)
            {
                Add(table, plan.Rule, row, "horizon", row.Horizon);
                if (row.AtQualification is { } then)
                {
                    Add(table, plan.Rule, row, "qualification", then);
                }
            }
        }

        return table;
    }

    private static void Add(Table table, AcceptanceRule rule, AssuranceRow row, string over, AssuranceFigures? figures)
    {
        var cells = new List<Cell>
        {
            rule.Plan.Name, row.Label, (long)rule.Plan.Parts, (long?)row.Taking?.Setups, (long?)row.Taking?.Lots, (long?)row.Taking?.EmitterAges, over,
            100.0 * rule.Claimed, 100.0 * rule.TextbookRisk, 100.0 * row.CarriedOut, row.FirstHours, row.LastHours,
        };
        AssuranceShare?[] shares =
            [figures?.Pass, figures?.NotGood, figures?.PassAndNotGood, figures?.PassIfNotGood, figures?.NotGoodIfPass, figures?.PassIfGood];
        foreach (var share in shares)
        {
            var e = share?.Estimate;
            cells.AddRange([100.0 * e?.Value, 100.0 * e?.Lower95, 100.0 * e?.Upper95]);
        }

        var equal = over == "horizon" ? row.EquivalentParts : null;
        string reasons = string.Join("; ", shares.Select(s => s?.Estimate.Withheld).Append(row.Withheld).OfType<string>().Distinct());
        cells.AddRange([equal?.Value, equal?.Lower95, equal?.Upper95, reasons.Length > 0 ? reasons : Cell.Missing]);
        table.Add([.. cells]);
    }

    private static Table Curves(AssuranceStudy study)
    {
        var table = new Table("operating_characteristic",
            Text("plan"), Text("spread"), Number("nonconforming_percent"), Whole("lifetimes"), Number("pass_percent"), Number("pass_lower95_percent"), Number("pass_upper95_percent"),
            Number("textbook_pass_percent"));
        foreach (var plan in study.Plans)
        {
            foreach (var curve in plan.Curves)
            {
                foreach (var point in curve.Points)
                {
                    double? textbook = point.Nonconforming is > 0.0 and < 1.0 ? 100.0 * plan.Rule.Textbook(point.Nonconforming) : null;
                    table.Add(
                        plan.Rule.Plan.Name, curve.Label, 100.0 * point.Nonconforming, (long)point.Lifetimes, 100.0 * point.Pass.Value, 100.0 * point.Pass.Lower95,
                        100.0 * point.Pass.Upper95, textbook);
                }
            }
        }

        return table;
    }

    private static Column Text(string header) => new(header, ColumnKind.Text);

    private static Column Number(string header) => new(header, ColumnKind.Number);

    private static Column Whole(string header) => new(header, ColumnKind.Whole);
}
