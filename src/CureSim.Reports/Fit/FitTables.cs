using CureSim.Core.Statistics;
using CureSim.Reports.Tables;
using CureSim.Studies.Fit;

namespace CureSim.Reports.Fit;

/// <summary>Tables of a fitted log.</summary>
public static class FitTables
{
    /// <summary>All tables.</summary>
    public static IEnumerable<Table> Of(LogFit fit, FitContext context, PredictiveCheck? check)
    {
        ArgumentNullException.ThrowIfNull(fit);
        ArgumentNullException.ThrowIfNull(context);
        yield return Columns(context);
        yield return Forms(fit);
        yield return Parameters(fit);
        yield return Correlations(fit);
        yield return Emitters(fit);
        yield return Readings(fit);
        yield return Gauge(fit);
        yield return Steps(fit);
        yield return Sentences("screening", "finding", fit.Screening);
        yield return Sentences("notes", "note", [.. context.Notes, .. fit.Notes]);
        if (check is { Withheld: null })
        {
            yield return Check(check);
        }
    }

    internal static Table Columns(FitContext context)
    {
        var table = new Table("columns", Text("role"), Text("header"), Text("how"));
        foreach (var (role, _, header, guessed) in context.Columns)
        {
            table.Add(role, header, guessed ? "guessed" : "said");
        }

        return table;
    }

    private static Table Forms(LogFit fit)
    {
        var table = new Table("forms", Text("form"), Whole("emitters"), Number("residual_sd_percent"), Number("aicc"), Number("aicc_difference"), Number("akaike_weight"), Text("taken"), Text("withheld"));
        foreach (var f in fit.Forms)
        {
            table.Add(f.Form.Name, f.Usable.Count(), Some(100.0 * f.ResidualDeviation), f.Criterion, f.Difference, f.Weight, fit.Chosen.Contains(f) ? "yes" : "no", f.Withheld);
        }

        return table;
    }

    private static Table Parameters(LogFit fit)
    {
        var table = new Table("parameters",
            Text("form"), Text("parameter"), Text("unit"), Number("median"), Number("median_lower95"), Number("median_upper95"), Number("log_standard_error"), Number("spread_log_sd"), Number("spread_lower95"),
            Number("spread_upper95"), Number("no_spread_p"), Whole("emitters"));
        foreach (var f in fit.Forms.Where(f => f.Withheld is null))
        {
            for (int j = 0; j < f.Form.Parameters.Length; j++)
            {
                var p = f.Form.Parameters[j];
                var (m, r) = (f.Median(j), f.Parameters[j]);
                table.Add(f.Form.Name, p.Key, p.Unit, m.Value * p.PerUnit, m.Lower95 * p.PerUnit, m.Upper95 * p.PerUnit, r.Mean.StandardError, r.Spread.Value, r.Spread.Lower95, r.Spread.Upper95, r.Chance, r.Units);
            }

            if (f.Level is { } level)
            {
                table.Add(f.Form.Name, "level_at_0_h", fit.Log.Unit ?? "", Exp(level.Mean.Value), Exp(level.Mean.Lower95), Exp(level.Mean.Upper95), level.Mean.StandardError, level.Spread.Value, level.Spread.Lower95, level.Spread.Upper95, level.Chance, level.Units);
            }
        }

        return table;
    }

    private static Table Correlations(LogFit fit)
    {
        var table = new Table("correlations", Text("form"), Text("parameter"), Text("with"), Number("correlation"));
        foreach (var f in fit.Forms.Where(f => f.Withheld is null))
        {
            for (int i = 0; i < f.Form.Parameters.Length; i++)
            {
                for (int j = i + 1; j < f.Form.Parameters.Length; j++)
                {
                    table.Add(f.Form.Name, f.Form.Parameters[i].Key, f.Form.Parameters[j].Key, f.Correlation[i, j]);
                }
            }
        }

        return table;
    }

    private static Table Emitters(LogFit fit)
    {
        var table = new Table("emitters",
            Text("emitter"), Number("from_h"), Number("to_h"), Text("end"), Text("form"), Whole("readings"), Text("parameter"), Text("unit"), Number("value"), Number("log_standard_error"), Text("withheld"));
        foreach (var run in fit.Runs)
        {
            string end = run.End switch { EmitterEnd.Failed => "failed", EmitterEnd.Replaced => "replaced", _ => "running" };
            bool any = false;
            foreach (var f in fit.Forms)
            {
                if (f.Emitters.FirstOrDefault(e => e.Run.Name == run.Name && e.Run.FirstHours.Equals(run.FirstHours) && e.Run.LastHours.Equals(run.LastHours)) is not { } e)
                {
                    continue;
                }

                any = true;
                for (int j = 0; j < f.Form.Parameters.Length; j++)
                {
                    var p = f.Form.Parameters[j];
                    bool made = e.Fit.Withheld is null;
                    table.Add(run.Name, Some(run.FirstHours), Some(run.LastHours), end, f.Form.Name, run.Observations.Length, p.Key, p.Unit, Some(made ? Math.Exp(e.Log(j)) * p.PerUnit : double.NaN),
                        Some(made && e.IsUsable && f.ResidualDeviation > 0.0 ? Math.Sqrt(e.Variance(j, f.ResidualDeviation)) : double.NaN), e.Fit.Withheld ?? (!e.IsUsable ? "at a limit" : f.Usable.Contains(e) ? null : "known too poorly for the linear error to hold: left out of mean and spread"));
                }
            }

            if (!any)
            {
                table.Add(run.Name, Some(run.FirstHours), Some(run.LastHours), end, "", 0, "", "", Some(double.NaN), Some(double.NaN), "no reading with known hours");
            }
        }

        return table;
    }

    private static Table Readings(LogFit fit)
    {
        var table = new Table("readings", Text("emitter"), Whole("line"), Number("emitter_h"), Text("level"), Whole("repeats"), Number("output"), Number("fitted"), Number("residual_percent"));
        if (fit.Chosen.IsEmpty)
        {
            return table;
        }

        foreach (var e in fit.Chosen[0].Emitters.Where(e => e.Fit.Withheld is null))
        {
            for (int i = 0; i < e.Used.Length; i++)
            {
                var o = e.Used[i];
                table.Add(e.Run.Name, o.Line, o.Hours, o.Level.Trim('|').Replace('|', ' ').Trim(), o.Repeats, Math.Exp(o.LogOutput), Math.Exp(o.LogOutput - e.Fit.Residuals[i]), 100.0 * e.Fit.Residuals[i]);
            }
        }

        return table;
    }

    private static Table Gauge(LogFit fit)
    {
        var table = new Table("reading_error", Text("what"), Number("percent"), Number("lower95_percent"), Number("upper95_percent"), Whole("degrees_of_freedom"), Text("withheld"));
        void Add(string what, Estimate e) => table.Add(what, e.Value * 100.0, e.Lower95 * 100.0, e.Upper95 * 100.0, e.Count, e.Withheld);
        Add("repeatability", fit.Repeatability);
        Add("day to day about the curve, beyond repeatability", fit.Session);
        Add("loss that cleaning gave back, mean", fit.CleaningLoss);
        return table;
    }

    private static Table Steps(LogFit fit)
    {
        var table = new Table("steps", Text("emitter"), Text("site"), Whole("line"), Number("clock_h"), Number("emitter_h"), Number("factor"), Number("log_standard_error"), Text("put_right"));
        foreach (var s in fit.Steps)
        {
            table.Add(s.Emitter, s.Site, s.Line, Some(s.Clock), s.Hours, s.Factor, s.FactorErrorLog, s.PutRight ? "yes" : "no");
        }

        return table;
    }

    private static Table Check(PredictiveCheck check)
    {
        var table = new Table("predictive_check", Number("clock_h"), Text("site"), Number("read_w_per_cm2"), Number("simulated_p05_w_per_cm2"), Number("simulated_p50_w_per_cm2"), Number("simulated_p95_w_per_cm2"), Text("inside"));
        foreach (var p in check.Points)
        {
            table.Add(p.Hours, p.Site, p.Read * 1e-4, p.Lower * 1e-4, p.Middle * 1e-4, p.Upper * 1e-4, p.Inside ? "yes" : "no");
        }

        return table;
    }

    private static Table Sentences(string name, string header, IEnumerable<string> sentences)
    {
        var table = new Table(name, Text(header));
        foreach (string s in sentences)
        {
            table.Add(s);
        }

        return table;
    }

    private static double? Some(double value) => double.IsFinite(value) ? value : null;

    private static double? Exp(double? log) => log is { } v ? Math.Exp(v) : null;

    private static Column Text(string header) => new(header, ColumnKind.Text);

    private static Column Number(string header) => new(header, ColumnKind.Number);

    private static Column Whole(string header) => new(header, ColumnKind.Whole);
}
