using CureSim.Core.Statistics;
using CureSim.Reports.Tables;
using CureSim.Studies.Drivers;

namespace CureSim.Reports.Drivers;

/// <summary>The tables of the drivers study.</summary>
public static class DriversTables
{
    /// <summary>Tables for files.</summary>
    public static IEnumerable<Table> Of(DriversResult study)
    {
        ArgumentNullException.ThrowIfNull(study);
        yield return WhatIfTable(study.WhatIf);
        yield return IndexTable(study.Indices);
        yield return MomentTable(study.Indices);
        yield return ImportanceTable(study);
        yield return EffectTable(study);
    }

    private static Table WhatIfTable(WhatIf found)
    {
        var columns = new List<Column> { Text("input"), Text("level"), Text("change") };
        foreach (var measure in found.Measures)
        {
            string name = DriversWords.HeaderOf(measure);
            string said = DriversWords.NameOf(measure);
            columns.AddRange([Number(name), new(name + "_change", ColumnKind.Number, $"Change of {said}"), Number(name + "_change_lower95"), Number(name + "_change_upper95"), new(name + "_change_seen", ColumnKind.Text, "Change seen")]);
        }

        columns.Add(Text("withheld"));
        var table = new Table("what_if", columns);
        var basis = new List<Cell> { "(as it is)", Cell.Missing, Cell.Missing };
        foreach (var value in found.Base)
        {
            basis.AddRange([value.Value, Cell.Missing, Cell.Missing, Cell.Missing, Cell.Missing]);
        }

        basis.Add(Joined(found.Base.Select(b => b.Withheld)));
        table.Add([.. basis]);
        foreach (var row in found.Rows)
        {
            var cells = new List<Cell> { row.Variant.Input, row.Variant.Level, row.Variant.Words };
            for (int i = 0; i < found.Measures.Length; i++)
            {
                var change = row.Changes[i];
                cells.AddRange([row.Values[i].Value, change.Value, change.Lower95, change.Upper95, change is { Value: not null, Lower95: not null } ? WhatIfRow.IsSeen(change) ? "yes" : "no" : null]);
            }

            cells.Add(Joined(row.Changes.Select(c => c.Withheld)));
            table.Add([.. cells]);
        }

        return table;
    }

    private static Table IndexTable(DoseIndices found)
    {
        var table = new Table("dose_indices",
        [
            Text("moment"), Text("grouped_by"), Text("input"), Text("level"), Number("first_order"), Number("first_order_lower95"), Number("first_order_upper95"),
            Number("total"), Number("total_lower95"), Number("total_upper95"),
        ]);
        foreach (var moment in found.Moments)
        {
            foreach (var (by, ranked) in new[] { ("quantity", moment.RankedQuantities), ("level", moment.RankedLevels) })
            {
                foreach (var (group, index) in ranked)
                {
                    var (s, t) = (index.First, index.Total);
                    table.Add(moment.Moment.Id, by, group.Name, group.Level, s.Value, s.Lower95, s.Upper95, t.Value, t.Lower95, t.Upper95);
                }
            }
        }

        return table;
    }

    private static Table MomentTable(DoseIndices found)
    {
        var table = new Table("dose_moments",
        [
            Text("moment"), new("meaning", ColumnKind.Text, "When the bond is made"), new Column("points", ColumnKind.Whole), Number("mean_j_per_cm2"), Number("mean_lower95"), Number("mean_upper95"), Number("sd_j_per_cm2"), Number("sd_lower95"), Number("sd_upper95"),
            new("first_order_sum", ColumnKind.Number, "Sum of first-order indices"), Number("first_order_sum_lower95"), Number("first_order_sum_upper95"),
        ]);
        foreach (var m in found.Moments)
        {
            double? Sd(double? variance) => variance is { } v ? 1e-4 * Math.Sqrt(Math.Max(0.0, v)) : null;
            var (mean, variance, sum) = (m.Indices?.Mean.Scale(1e-4), m.Indices?.Variance, m.Indices?.FirstOrderSum);
            table.Add(m.Moment.Id, m.Moment.Name, found.Points, mean?.Value, mean?.Lower95, mean?.Upper95, Sd(variance?.Value), Sd(variance?.Lower95), Sd(variance?.Upper95), sum?.Value, sum?.Lower95, sum?.Upper95);
        }

        return table;
    }

    private static Table ImportanceTable(DriversResult study)
    {
        var table = new Table("importance",
        [
            Text("answer"), Text("predicted"), new Column("lifetimes", ColumnKind.Whole), new Column("held_out", ColumnKind.Whole), Number("r_squared"), Number("r_squared_lower95"), Number("r_squared_upper95"),
            Text("input"), new("r_squared_drop", ColumnKind.Number, "Drop of R² when dealt out anew"), new("r_squared_drop_sd", ColumnKind.Number, "Its standard deviation over deals"), Text("note"), Text("withheld"),
        ]);
        foreach (var i in study.Importances)
        {
            foreach (var input in i.Inputs.DefaultIfEmpty(null!))
            {
                Estimate? drop = input?.Drop;
                table.Add(i.Id, i.Answer, i.Lifetimes, i.HeldOut, i.RSquared.Value, i.RSquared.Lower95, i.RSquared.Upper95, input?.Input, drop?.Value, drop?.StandardError, i.Note, i.Withheld);
            }
        }

        return table;
    }

    private static Table EffectTable(DriversResult study)
    {
        var table = new Table("effects", [Text("answer"), Text("input"), Text("draw"), Number("value"), Text("unit"), Text("answer_unit"), Number("mean"), Number("p10"), Number("p90")]);
        foreach (var i in study.Importances)
        {
            foreach (var e in i.Effects)
            {
                var (unit, perSi) = DriversWords.UnitOf(e.Column);
                for (int k = 0; k < e.X.Length; k++)
                {
                    table.Add(i.Id, e.Column.Input, e.Column.Name, e.X[k] * perSi, unit, i.Id == "time_to_requalify" ? "h" : "log10 of odds", e.Mean[k], e.Low[k], e.High[k]);
                }
            }
        }

        return table;
    }

    private static string? Joined(IEnumerable<string?> reasons) => string.Join("; ", reasons.OfType<string>().Distinct()) is { Length: > 0 } why ? why : null;

    private static Column Text(string name) => new(name, ColumnKind.Text);

    private static Column Number(string name) => new(name, ColumnKind.Number);
}
