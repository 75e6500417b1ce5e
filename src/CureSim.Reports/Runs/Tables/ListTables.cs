using CureSim.Core.Cell;
using CureSim.Core.Summaries;
using CureSim.Reports.Tables;

namespace CureSim.Reports.Runs;

/// <summary>Inputs, light budget, histograms and the record of every lifetime.</summary>
internal static class ListTables
{
    private const double Hour = 3600.0;

    public static Table Inputs(RunContext context)
    {
        var table = new Table("inputs", Text("input"), Text("drawn_anew_at"), Text("value"), Text("unit"), Text("origin"), Text("meaning"));
        foreach (var input in context.Inputs)
        {
            table.Add(input.Path, input.Level, input.Value, input.Unit.Length > 0 ? input.Unit : null, input.Origin, input.Meaning);
        }

        return table;
    }

    public static Table LightBudget(RunContext context)
    {
        var table = new Table("light_budget", Text("factor"), Number("ratio"), Number("irradiance_after_w_per_cm2"));
        foreach (var row in context.Budget)
        {
            table.Add(row.Name, row.Factor, row.IrradianceAfter * 1e-4);
        }

        return table;
    }

    public static Table Histogram(RunFindings findings, RunResponse response)
    {
        var table = new Table("histogram_" + response.Id, Number(response.Header("from")), Number(response.Header("to")), Whole("bonds"));
        var (edges, counts) = response.Histogram(findings.Run.Whole.Summary);
        for (int i = 0; i < counts.Length; i++)
        {
            table.Add(edges[i], edges[i + 1], counts[i]);
        }

        return table;
    }

    public static Table Lifetimes(RunFindings findings)
    {
        var table = new Table("lifetimes",
            Whole("world"), Whole("lifetime"), Text("never_qualified"), Number("requalify_hours"), Text("requalify_cause"), Number("first_excursion_hours"),
            Number("first_detection_hours"), Number("first_excursion_parts"), Whole("excursions"), Number("out_hours"), Number("out_undetected_hours"),
            Number("outside_window_hours"), Number("outside_window_undetected_hours"), Number("parts_made"), Number("suspect_parts"), Number("downtime_hours"),
            Whole("bonds_sampled"), Whole("bonds_nonconforming"), Whole("parts_sampled"), Whole("parts_nonconforming"), Number("bonds_nonconforming_conditional_ppm"),
            Number("parts_nonconforming_conditional_ppm"), Number("dose_mean_j_per_cm2"), Whole("checks"), Whole("checks_missed"), Whole("found_leave"), Whole("found_adjust"),
            Whole("found_record"), Whole("found_out_of_tolerance"), Whole("emitters_planned"), Whole("emitters_failed"), Whole("emitters_short"), Whole("guides_planned"),
            Whole("guides_short"), Whole("requalify_events"), Whole("requalifications"), Whole("disturbances"), Whole("left_short"), Whole("legs_out_of_limit"));
        foreach (var r in findings.Run.Result.Records)
        {
            table.Add(Row(r));
        }

        return table;
    }

    private static Cell[] Row(in LifetimeRecord r)
    {
        double? Hours(double seconds) => double.IsNaN(seconds) ? null : seconds / Hour;
        double? Ppm(double sum, double states) => states > 0.0 ? 1e6 * sum / states : null;
        double? mean = r.BondsSampled > 0.0 ? r.DoseSum / r.BondsSampled * 1e-4 : null;
        string? cause = double.IsNaN(r.RequalifySeconds) ? null : RunFindings.Words(r.RequalifyCause);
        return
        [
            r.World, (long)r.Lifetime, r.NeverQualified ? "yes" : "no", Hours(r.RequalifySeconds), cause, Hours(r.FirstExcursionSeconds),
            Hours(r.FirstDetectionSeconds), r.FirstExcursionParts, r.Excursions, r.OutSeconds / Hour, r.OutUndetectedSeconds / Hour,
            r.OutOfWindowSeconds / Hour, r.OutOfWindowUndetectedSeconds / Hour, r.PartsMade, r.SuspectParts, r.DowntimeSeconds / Hour,
            (long)r.BondsSampled, (long)r.BondsNonconforming, (long)r.PartsSampled, (long)r.PartsNonconforming, Ppm(r.ConditionalBonds, r.ConditionalStates),
            Ppm(r.ConditionalParts, r.ConditionalStates), mean, r.Checks, r.ChecksMissed, r.FoundLeave, r.FoundAdjust,
            r.FoundRecord, r.FoundOutOfTolerance, r.EmittersPlanned, r.EmittersFailed, r.EmittersShort, r.GuidesPlanned,
            r.GuidesShort, r.RequalifyEvents, r.Requalifications, r.Disturbances, r.LeftShort, r.LegsOutOfLimit,
        ];
    }

    private static Column Text(string header) => new(header, ColumnKind.Text);

    private static Column Number(string header) => new(header, ColumnKind.Number);

    private static Column Whole(string header) => new(header, ColumnKind.Whole);
}
