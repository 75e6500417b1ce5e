using CureSim.Core.Cell;
using CureSim.Engine.Block;
using CureSim.Reports.Tables;
using CureSim.Studies.Runs;

namespace CureSim.Reports.Runs;

/// <summary>The tables of one replayed lifetime.</summary>
public static class TraceTables
{
    /// <summary>Events, steps (a row for each site) and bonds.</summary>
    public static IEnumerable<Table> Of(Scenario scenario, LifetimeTrace trace)
    {
        ArgumentNullException.ThrowIfNull(scenario);
        ArgumentNullException.ThrowIfNull(trace);
        yield return Events(trace);
        yield return Steps(trace);
        yield return Bonds(scenario, trace);
    }

    /// <summary>Whether a bond is inside every limit; null when the limits move with the error of the radiometer that the study used.</summary>
    public static bool? Conforms(Scenario scenario, TraceBond bond)
    {
        ArgumentNullException.ThrowIfNull(scenario);
        ArgumentNullException.ThrowIfNull(bond);
        if (scenario.Window.InStudyMeterUnits)
        {
            return null;
        }

        return scenario.Window.Limits.All(limit =>
        {
            double value = limit.Response switch { Response.Irradiance => bond.Irradiance, Response.Dose => bond.Dose, _ => bond.DegreeOfCure };
            return !(value < limit.Lower) && !(value > limit.Upper);
        });
    }

    private static Table Events(LifetimeTrace trace)
    {
        var table = new Table("events", Number("time_hours"), Text("event"), Text("detail"), Whole("site"), Number("value"), Text("unit"));
        foreach (var what in trace.Events)
        {
            var value = TraceValue.Of(what);
            table.Add(what.Seconds / 3600.0, what.What, what.Detail, what.Site + 1L, value?.Value, value?.Unit);
        }

        return table;
    }

    private static Table Steps(LifetimeTrace trace)
    {
        var table = new Table("steps",
            Whole("step"), Number("time_hours"), Whole("site"), Number("burn_hours"), Number("guide_lit_hours"), Number("exposures_since_cleaning"), Number("drive_percent"),
            Number("sensed_at_full_drive_w_per_cm2"), Number("nominal_irradiance_w_per_cm2"), Number("distance_mm"), Text("qualified"), Text("nominally_inside"),
            Number("parts_nonconforming_ppm"));
        for (int k = 0; k < trace.Steps.Count; k++)
        {
            var step = trace.Steps[k];
            for (int i = 0; i < step.Sites.Length; i++)
            {
                var site = step.Sites[i];
                table.Add(
                    k, step.Seconds / 3600.0, i + 1, site.BurnSeconds / 3600.0, site.LitSeconds / 3600.0, site.Exposures, 100.0 * site.Drive, site.SensedFull * 1e-4,
                    site.NominalIrradiance * 1e-4, 1e3 * site.DistanceMetres, step.Qualified ? "yes" : "no", step.Inside ? "yes" : "no", 1e6 * step.NonconformingProbability);
            }
        }

        return table;
    }

    private static Table Bonds(Scenario scenario, LifetimeTrace trace)
    {
        var table = new Table("bonds",
            Whole("step"), Whole("part"), Whole("site"), Number("irradiance_w_per_cm2"), Number("dose_j_per_cm2"), Number("degree_of_cure_ratio"), Text("conforming"));
        double k = RunMeasures.UnitOf(Response.Dose).PerSi;
        foreach (var bond in trace.Bonds)
        {
            double? degree = double.IsNaN(bond.DegreeOfCure) ? null : bond.DegreeOfCure;
            string? conforming = Conforms(scenario, bond) switch { true => "yes", false => "no", null => null };
            table.Add(bond.Step, bond.Part, bond.Site + 1, bond.Irradiance * k, bond.Dose * k, degree, conforming);
        }

        return table;
    }

    private static Column Text(string header) => new(header, ColumnKind.Text);

    private static Column Number(string header) => new(header, ColumnKind.Number);

    private static Column Whole(string header) => new(header, ColumnKind.Whole);
}
