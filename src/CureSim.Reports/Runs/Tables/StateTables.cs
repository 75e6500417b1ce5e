using CureSim.Core.Statistics;
using CureSim.Core.Summaries;
using CureSim.Reports.Tables;
using CureSim.Studies.Runs;

namespace CureSim.Reports.Runs;

/// <summary>State index over cells, and the time to requalify.</summary>
internal static class StateTables
{
    private static readonly double[] Percentiles = [0.01, 0.05, 0.25, 0.5, 0.75, 0.95, 0.99];

    public static Table StateIndex(RunFindings findings)
    {
        var table = new Table("state_index_spread",
        [
            new Column("moment", ColumnKind.Text), new Column("states", ColumnKind.Whole), new Column("below_scale_percent", ColumnKind.Number),
            .. Percentiles.Select(p => new Column($"p{100 * p:00}", ColumnKind.Number)), new Column("above_scale_percent", ColumnKind.Number),
            new Column("required", ColumnKind.Number), new Column("meeting_percent", ColumnKind.Number),
        ]);
        string[] ids = ["start", "before_check", "end"], words = ["start", "just before a check", "end"];
        for (int m = 0; m < CellSummary.IndexMoments; m++)
        {
            int[] slots = findings.Run.Whole.Summary.IndexAt[m];
            long states = slots.Sum(c => (long)c);
            if (states == 0)
            {
                continue;
            }

            // An index below −3 or above 4 has no bin of its own; a percentile there is left empty and its share stands beside.
            double? Quantile(double p) => SummaryLayout.IndexQuantile(slots, p) is var q && double.IsFinite(q) ? q : null;
            Cell[] row =
            [
                words[m], states, 100.0 * slots[0] / states, .. Percentiles.Select(p => (Cell)Quantile(p)), 100.0 * slots[^1] / states,
                findings.Requirement?.Required, findings.Run.Find($"cells_meeting_{ids[m]}_percent")?.Estimate.Value,
            ];
            table.Add(row);
        }

        return table;
    }

    public static Table Survival(RunFindings findings)
    {
        var table = new Table("requalify_survival",
            new Column("time_hours", ColumnKind.Number), new Column("at_risk", ColumnKind.Whole), new Column("events", ColumnKind.Whole),
            new Column("not_yet_percent", ColumnKind.Number), new Column("lower95_percent", ColumnKind.Number), new Column("upper95_percent", ColumnKind.Number));
        table.Add(0.0, findings.Survival.Subjects, 0, 100.0, Cell.Missing, Cell.Missing);
        foreach (var step in findings.Survival.Steps)
        {
            var s = findings.SurvivalAt(step.Time);
            table.Add(step.Time / 3600.0, step.AtRisk, step.Events, 100.0 * step.Survival, 100.0 * s.Lower95, 100.0 * s.Upper95);
        }

        return table;
    }

    public static Table Causes(RunFindings findings)
    {
        var causes = findings.Run.Scenario.Requalification.On;
        var table = new Table("requalify_causes",
        [
            new Column("time_hours", ColumnKind.Number), new Column("not_yet_percent", ColumnKind.Number),
            .. causes.SelectMany(c => new[] { "percent", "lower95_percent", "upper95_percent" }
                .Select(part => new Column($"{RunFindings.Words(c).Replace(' ', '_')}_{part}", ColumnKind.Number))),
        ]);
        foreach (double time in findings.Incidence.Times.Prepend(0.0))
        {
            var estimates = causes.Select(c => findings.IncidenceAt(c, time));
            Cell[] row =
            [
                time / 3600.0, 100.0 * findings.Incidence.SurvivalAt(time),
                .. estimates.SelectMany(e => new Cell[] { 100.0 * e.Value, 100.0 * e.Lower95, 100.0 * e.Upper95 }),
            ];
            table.Add(row);
        }

        return table;
    }

    public static Table LevelShares(RunFindings findings)
    {
        var table = new Table("level_shares",
            new Column("source", ColumnKind.Text), new Column("share_of_variance_percent", ColumnKind.Number),
            new Column("lower95_percent", ColumnKind.Number), new Column("upper95_percent", ColumnKind.Number));
        foreach (var row in VarianceRows.Of(findings.Run))
        {
            table.Add(row.Name, row.Percent, row.Lower, row.Upper);
        }

        return table;
    }
}
