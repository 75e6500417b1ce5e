using CureSim.Reports.Tables;
using CureSim.Reports.Text;
using CureSim.Studies.Runs;

namespace CureSim.Reports.Runs;

/// <summary>The tables of a comparison, for files and for the terminal.</summary>
public static class CompareTables
{
    private static readonly (string Id, string Words)[] Headline =
    [
        ("dose_x50_j_per_cm2", "Dose, median"),
        ("dose_ppk_percentile", "Ppk of dose, percentiles"),
        ("dose_ppk", "Ppk of dose, moments"),
        ("degree_of_cure_ppk_percentile", "Ppk of degree of cure, percentiles"),
        ("irradiance_ppk_percentile", "Ppk of irradiance, percentiles"),
        ("dose_cpk", "Cpk of dose, worst site"),
        ("parts_nonconforming_conditional_ppm", "Nonconforming parts, by state"),
        ("parts_nonconforming_counted_ppm", "Nonconforming parts, counted"),
        ("state_index_before_check_p05", "State index before a check, 5 % below"),
        ("cells_meeting_before_check_percent", "Cells that meet the requirement"),
        ("requalify_median_hours", "Time to requalify, median"),
        ("never_qualified_percent", "Never qualified"),
        ("time_out_undetected_percent", "Time out unseen"),
        ("requalifications_per_year", "Requalifications a year"),
        ("emitters_per_year", "Emitters replaced a year"),
        ("downtime_percent", "Production time lost"),
    ];

    /// <summary>Tables for files.</summary>
    public static IEnumerable<Table> Of(ComparedRuns compared)
    {
        ArgumentNullException.ThrowIfNull(compared);
        yield return Comparison(compared);
        yield return LightBudgets(compared);
        yield return Differences(compared);
    }

    /// <summary>The figures that are asked for first, as text: A, B and B − A with its paired interval.</summary>
    public static Table Answer(ComparedRuns compared)
    {
        ArgumentNullException.ThrowIfNull(compared);
        var table = new Table("answer",
            new Column("figure", ColumnKind.Text, ""), new Column("unit", ColumnKind.Text, "Unit"), new Column("a", ColumnKind.Text, "A"), new Column("b", ColumnKind.Text, "B"),
            new Column("difference", ColumnKind.Text, "B − A (95 % interval, paired)"));
        foreach (var (id, words) in Headline)
        {
            if (compared.Paired.Find(id) is { } pair)
            {
                string difference = pair.Difference.Value is null ? $"withheld{(pair.Difference.Withheld is { } why ? $" ({Briefly(why)})" : "")}" : FigureText.Of(pair.Difference);
                string worlds = pair.WorldsAbove is { } above ? $"; above in {above} of {compared.A.Run.Scenario.Run.Worlds} worlds" : "";
                table.Add(words, pair.Measure.Unit ?? "", Short(pair.A), Short(pair.B), difference + worlds);
            }
        }

        return table;
    }

    /// <summary>The nominal light budgets side by side, as text.</summary>
    public static Table BudgetAnswer(ComparedRuns compared)
    {
        ArgumentNullException.ThrowIfNull(compared);
        var table = new Table("light_budgets",
            new Column("factor", ColumnKind.Text, "Nominal light budget"), new Column("a", ColumnKind.Text, "A"), new Column("b", ColumnKind.Text, "B"));
        bool first = true;
        foreach (var pair in compared.Budgets())
        {
            table.Add(pair.Name, Factor(pair.A, first), Factor(pair.B, first));
            first = false;
        }

        table.Add("at the bond", Light(compared.A.Context), Light(compared.B.Context));
        return table;
    }

    private static Table Comparison(ComparedRuns compared)
    {
        var table = new Table("comparison",
            Text("figure"), Text("meaning"), Text("unit"), Number("a"), Number("a_lower95"), Number("a_upper95"), Number("b"), Number("b_lower95"), Number("b_upper95"),
            Number("difference"), Number("difference_lower95"), Number("difference_upper95"), Text("withheld_because"), new Column("worlds_b_above_a", ColumnKind.Whole));
        foreach (var pair in compared.Paired.Figures)
        {
            var (a, b, d) = (pair.A?.Estimate, pair.B?.Estimate, pair.Difference);
            table.Add(
                pair.Measure.Id, pair.Measure.Meaning, pair.Measure.Unit, a?.Value, a?.Lower95, a?.Upper95, b?.Value, b?.Lower95, b?.Upper95,
                d.Value, d.Lower95, d.Upper95, d.Withheld, (long?)pair.WorldsAbove);
        }

        return table;
    }

    private static Table LightBudgets(ComparedRuns compared)
    {
        var table = new Table("light_budgets",
            Text("factor"), Number("a_ratio"), Number("a_irradiance_after_w_per_cm2"), Number("b_ratio"), Number("b_irradiance_after_w_per_cm2"), Text("remark"));
        foreach (var pair in compared.Budgets())
        {
            table.Add(pair.Name, pair.A?.Factor, pair.A?.IrradianceAfter * 1e-4, pair.B?.Factor, pair.B?.IrradianceAfter * 1e-4, Cell.Missing);
        }

        table.Add("spectral band", Cell.Missing, Cell.Missing, Cell.Missing, Cell.Missing, compared.BandChanges ? ComparedRuns.BandRemark : "same kind of source");
        return table;
    }

    private static Table Differences(ComparedRuns compared)
    {
        var table = new Table("inputs_that_differ", Text("input"), Text("a"), Text("b"), Text("meaning"));
        foreach (var row in compared.Differences)
        {
            table.Add(row.Path, row.A, row.B, row.Meaning);
        }

        return table;
    }

    // The whole reason stands in the file; beside other figures its first clause has room.
    private static string Briefly(string why) => why.Replace("withheld in the first scenario", "in A", StringComparison.Ordinal).Replace("withheld in the second scenario", "in B", StringComparison.Ordinal).Split(", so")[0].Split(';')[0];

    private static string Short(KeyFigure? figure) => figure?.Estimate switch
    {
        null => "–",
        { Value: { } v, StandardError: { } e } => Format.Rounded(v, e),
        { Value: { } v } => Format.Value(v),
        { Lower95: { } l } => $"above {Format.Value(l)}",
        { Upper95: { } u } => $"below {Format.Value(u)}",
        _ => "withheld",
    };

    private static string Factor(BudgetRow? row, bool first) => row is null ? "–" : first ? Format.Fixed(row.IrradianceAfter * 1e-4, 2, "W/cm²") : "× " + Format.Fixed(row.Factor, 3);

    private static string Light(RunContext context) => context.Budget.IsEmpty ? "–" : Format.Fixed(context.Budget[^1].IrradianceAfter * 1e-4, 2, "W/cm²");

    private static Column Text(string header) => new(header, ColumnKind.Text);

    private static Column Number(string header) => new(header, ColumnKind.Number);
}
