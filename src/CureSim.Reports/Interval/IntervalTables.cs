using CureSim.Core.Statistics;
using CureSim.Reports.Tables;
using CureSim.Studies.Interval;
using CureSim.Studies.Runs;

namespace CureSim.Reports.Interval;

/// <summary>The tables of the interval study.</summary>
public static class IntervalTables
{
    /// <summary>Tables for files.</summary>
    public static IEnumerable<Table> Of(IntervalResult study)
    {
        ArgumentNullException.ThrowIfNull(study);
        yield return Overview(study);
        yield return Figures(study);
        yield return Differences(study);
        yield return Unseen(study);
        if (study.Binding is { } binding)
        {
            yield return Contributors(binding);
        }

        foreach (var grid in study.Grids)
        {
            yield return Grid(grid);
        }

        if (study.Detection is { } detection)
        {
            yield return Detection(detection);
        }
    }

    /// <summary>One row a candidate: what matters most, values only.</summary>
    public static Table Overview(IntervalResult study)
    {
        ArgumentNullException.ThrowIfNull(study);
        string[] ids =
        [
            IntervalMeasures.InTolerance, "found_adjusted_percent", "found_out_of_tolerance_percent", IntervalMeasures.Ppm, "nonconforming_parts_per_year", "unseen_out_hours_per_year", "unseen_out_p95_hours_per_year",
            "unseen_outside_hours_per_year", "unseen_outside_p95_hours_per_year", "suspect_parts_per_year", "open_at_horizon_hours", IntervalMeasures.Checks, "availability_percent", "requalify_median_hours", IntervalMeasures.Cost,
        ];
        string[] given = [.. ids.Where(id => study.Candidates.Any(c => c.Run.Find(id) is not null))];
        var table = new Table("intervals",
        [
            Text("candidate"), Number("interval_hours"), Text("meets"), Number("in_tolerance_unfavourable_percent"), Number("ppm_unfavourable"), .. given.Select(Number),
        ]);
        foreach (var c in study.Candidates)
        {
            table.Add(
            [
                c.Run.Timing.Name, c.Run.IntervalHours, c.Meets ? "yes" : "no: " + IntervalWords.Missed(c), 100.0 * c.Reliability, (Cell)c.Ppm,
                .. given.Select(id => (Cell)c.Run.Find(id)?.Estimate.Value),
            ]);
        }

        return table;
    }

    private static Table Figures(IntervalResult study)
    {
        var table = new Table("interval_figures",
        [
            Text("candidate"), Number("interval_hours"), Text("figure"), Text("meaning"), Text("unit"), Number("value"), Number("lower95"), Number("upper95"),
            Number("worlds_p05"), Number("worlds_p95"), Text("withheld"),
        ]);
        foreach (var c in study.Candidates)
        {
            foreach (var f in c.Run.Figures)
            {
                table.Add(
                    c.Run.Timing.Name, c.Run.IntervalHours, f.Measure.Id, f.Measure.Meaning, f.Measure.Unit, f.Estimate.Value, f.Estimate.Lower95, f.Estimate.Upper95,
                    f.Band?.Lower05, f.Band?.Upper95, f.Estimate.Withheld ?? f.Band?.Withheld);
            }
        }

        return table;
    }

    private static Table Differences(IntervalResult study)
    {
        var table = new Table("interval_differences",
            [Text("candidate"), Text("next"), Text("figure"), Text("unit"), Number("difference"), Number("lower95"), Number("upper95"), Text("withheld")]);
        for (int i = 1; i < study.Candidates.Length; i++)
        {
            var (a, b) = (study.Candidates[i - 1].Run, study.Candidates[i].Run);

            // A difference of survival medians is a bootstrap of its own; between neighbours it says little and costs much.
            foreach (var f in a.Figures.Where(f => f.Measure.Error != ErrorBy.SurvivalCurve && f.Measure.Error != ErrorBy.Batches))
            {
                var d = a.Difference(b, f.Measure.Id);
                table.Add(a.Timing.Name, b.Timing.Name, f.Measure.Id, f.Measure.Unit, d.Value, d.Lower95, d.Upper95, d.Withheld);
            }
        }

        return table;
    }

    private static Table Unseen(IntervalResult study)
    {
        double[] probabilities = [0.05, 0.25, 0.5, 0.75, 0.9, 0.95, 0.99];
        var table = new Table("unseen_time",
            [Text("candidate"), Number("interval_hours"), Number("cells_below_percent"), Number("unseen_out_hours_per_year"), Number("unseen_outside_hours_per_year")]);
        foreach (var c in study.Candidates)
        {
            var (state, window) = (UnseenTime.OutOfState(c.Run), UnseenTime.OutOfWindow(c.Run));
            foreach (double p in probabilities)
            {
                table.Add(c.Run.Timing.Name, c.Run.IntervalHours, 100.0 * p, SampleQuantile.OfSorted(state, p), SampleQuantile.OfSorted(window, p));
            }
        }

        return table;
    }

    private static Table Contributors(Binding binding)
    {
        var table = new Table("contributors",
        [
            Text("candidate"), Text("perfect"), Number("in_tolerance_percent"), Number("ppm"), Number("in_tolerance_change_points"), Number("in_tolerance_change_lower95"),
            Number("in_tolerance_change_upper95"), Number("ppm_change"), Number("ppm_change_lower95"), Number("ppm_change_upper95"), Text("meets"),
        ]);
        void Add(string what, CandidateVerdict v, Estimate? r, Estimate? p) => table.Add(
            binding.Timing.Name, what, v.Run.Find(IntervalMeasures.InTolerance)?.Estimate.Value, v.Run.Find(IntervalMeasures.Ppm)?.Estimate.Value,
            r?.Value, r?.Lower95, r?.Upper95, p?.Value, p?.Lower95, p?.Upper95, v.Meets ? "yes" : "no");
        Add("nothing", binding.Base, null, null);
        foreach (var e in binding.Effects)
        {
            Add(e.Contributor.Name, e.Verdict, e.Reliability, e.Ppm);
        }

        return table;
    }

    private static Table Grid(LimitGrid grid)
    {
        string name = grid.Crossed == CrossedLimit.Adjust ? "adjust" : "action";
        bool costs = grid.Runs.Any(r => r.Find(IntervalMeasures.Cost) is not null);
        string[] ids = [IntervalMeasures.InTolerance, IntervalMeasures.Ppm, "found_adjusted_percent", "unseen_out_hours_per_year", .. costs ? [IntervalMeasures.Cost] : Array.Empty<string>()];
        var table = new Table($"interval_by_{name}_limit",
            [Text("candidate"), Number("interval_hours"), Number($"{name}_limit_percent"), .. ids.SelectMany(id => new[] { Number(id), Number(id + "_lower95"), Number(id + "_upper95") })]);
        for (int i = 0; i < grid.Timings.Length; i++)
        {
            for (int j = 0; j < grid.Limits.Length; j++)
            {
                var run = grid.At(i, j);
                table.Add(
                [
                    run.Timing.Name, run.IntervalHours, 100.0 * grid.Limits[j],
                    .. ids.SelectMany(id => new[] { (Cell)run.Find(id)?.Estimate.Value, (Cell)run.Find(id)?.Estimate.Lower95, (Cell)run.Find(id)?.Estimate.Upper95 }),
                ]);
            }
        }

        return table;
    }

    private static Table Detection(DetectionMatrix detection)
    {
        var table = new Table("detection",
        [
            Text("fault"), Whole("lifetimes"), Whole("onsets"), Number("median_onset_hours"), Text("control"), Number("chance_percent"), Number("chance_lower95_percent"),
            Number("chance_upper95_percent"), Number("median_hours_to_detection"), Number("parts_meanwhile"), Text("remark"),
        ]);
        foreach (var row in detection.Rows)
        {
            foreach (var cell in row.Cells)
            {
                table.Add(
                    row.Fault, row.Lifetimes, row.Onsets, row.MedianOnsetHours, cell.Control, 100.0 * cell.Chance.Value, 100.0 * cell.Chance.Lower95, 100.0 * cell.Chance.Upper95,
                    cell.MedianHours, cell.PartsMeanwhile, cell.Chance.Withheld ?? cell.Remark);
            }
        }

        return table;
    }

    private static Column Text(string header) => new(header, ColumnKind.Text);

    private static Column Number(string header) => new(header, ColumnKind.Number);

    private static Column Whole(string header) => new(header, ColumnKind.Whole);
}
