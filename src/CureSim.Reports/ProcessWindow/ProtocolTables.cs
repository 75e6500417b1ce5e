using CureSim.Core.Cell;
using CureSim.Core.Statistics;
using CureSim.Reports.Tables;
using CureSim.Reports.Text;
using CureSim.Studies.Assurance;
using CureSim.Studies.ProcessWindow;

namespace CureSim.Reports.ProcessWindow;

/// <summary>The tables of the qualification plan.</summary>
public static class ProtocolTables
{
    /// <summary>One row a point: setting, conditions, parts, acceptance, predicted result.</summary>
    public static Table Protocol(WindowResult result)
    {
        ArgumentNullException.ThrowIfNull(result);
        var study = result.Map.Case;
        var table = new Table("protocol",
        [
            Text("stage", "Stage"), Text("point", "Point"), Text("setting", "Setting"), Text("conditions", "Conditions"), new("parts", ColumnKind.Whole, "n"), Text("acceptance", "Acceptance"), Text("predicted", "Predicted result"),
            Text("predicted_pass", "Predicted chance to pass"), Text("result", "Result"), Text("verdict", "Pass or fail"),
        ]);
        string limits = WindowWords.Limits(study.Cell);
        foreach (var p in result.Challenges)
        {
            string predicted = string.Join("; ", p.Responses.Where(r => r.Lower is not null || r.Upper is not null).Select(Told)) + $"; conforming {WindowWords.PerCent(p.Conforming)}";
            table.Add("operational", p.Name, WindowWords.At(study, p.X, p.Y), Conditions(p), p.Parts, $"0 nonconforming: {limits}", predicted, WindowWords.PerCent(p.Pass), "", "");
        }

        if (result.Assurance is { } assurance)
        {
            foreach (var plan in assurance.Plans)
            {
                var q = plan.Rule.Plan;
                var figures = plan.Own.Figures(q.Good);
                string accept = q.Accept == Acceptance.Attribute ? $"{q.Allowed} nonconforming: {limits}"
                    : string.Join("; ", study.Cell.Window.Limits.Select((l, i) => $"{LimitSide.WordOf(l.Response)}: mean {(l.Lower is not null && l.Upper is not null ? "±" : l.Lower is not null ? "−" : "+")} {Format.Value(plan.Rule.Factors[i])} s inside its limits"));
                string predicted = figures is null ? plan.Own.Withheld ?? "withheld" : $"passes while not good {WindowWords.Chance(figures.PassAndNotGood.Estimate)}";
                table.Add("performance", $"set-point, {q.Name}", WindowWords.At(study, result.Map.SetPoint.X, result.Map.SetPoint.Y), "normal production, after a check", q.Parts, accept, predicted, figures is null ? "withheld" : WindowWords.Chance(figures.Pass.Estimate), "", "");
            }
        }

        return table;
    }

    private static string Told(PredictedResponse r)
    {
        var (unit, _, si) = WindowWords.UnitOf(r.Response);
        return $"{LimitSide.WordOf(r.Response)} mean {Format.Interval(r.Mean / si, Math.Min(r.Mean, r.MeanLower95) / si, Math.Max(r.Mean, r.MeanUpper95) / si, unit)}, parts {Format.Value(r.PartLower95 / si)} to {Format.Value(r.PartUpper95 / si, unit)}";
    }

    private static string Conditions(ChallengePoint p) => p.State.Conditions.IsEmpty ? "nominal: just set, clean, median lots" : string.Join("; ", p.State.Conditions.Select(c => $"{c.Name} ({c.Value})"));

    /// <summary>Conditions of the challenge points.</summary>
    internal static Table Conditions(WindowResult result)
    {
        var table = new Table("challenge_conditions", [Text("point"), Text("condition"), Text("value"), Number("effect_percent")]);
        foreach (var p in result.Challenges)
        {
            foreach (var c in p.State.Conditions)
            {
                table.Add(p.Name, c.Name, c.Value, 100.0 * (Math.Exp(c.Effect) - 1.0));
            }
        }

        return table;
    }

    /// <summary>Predicted results of the challenge points.</summary>
    internal static Table Predicted(WindowResult result)
    {
        var study = result.Map.Case;
        var table = new Table("challenge_predicted",
        [
            Text("point"), Number(WindowWords.Header(study.X)), Number(WindowWords.Header(study.Y)), Text("response"), Text("unit"), Number("mean"), Number("mean_p025"), Number("mean_p975"), Number("part_p025"), Number("part_p975"),
            Number("lower_limit"), Number("upper_limit"), Number("conforming_percent"), Number("conforming_lower95"), Number("conforming_upper95"), new("parts", ColumnKind.Whole), Number("all_pass_percent"), Number("all_pass_lower95"), Number("all_pass_upper95"),
        ]);
        foreach (var p in result.Challenges)
        {
            foreach (var r in p.Responses)
            {
                var (unit, _, si) = WindowWords.UnitOf(r.Response);
                table.Add(
                    p.Name, p.X, p.Y, LimitSide.WordOf(r.Response), unit, r.Mean / si, r.MeanLower95 / si, r.MeanUpper95 / si, r.PartLower95 / si, r.PartUpper95 / si, r.Lower / si, r.Upper / si,
                    100.0 * p.Conforming.Value, 100.0 * p.Conforming.Lower95, 100.0 * p.Conforming.Upper95, p.Parts, 100.0 * p.Pass.Value, 100.0 * p.Pass.Lower95, 100.0 * p.Pass.Upper95);
            }
        }

        return table;
    }

    /// <summary>Chances of the two plans at the set-point.</summary>
    internal static Table Assured(AssuranceStudy study)
    {
        var table = new Table("plan_assurance",
        [
            Text("plan", "Plan"), Text("spread", "Parts from"), new("parts", ColumnKind.Whole, "Parts"), Text("chance", "Chance that a cell …"), Number("percent", "%"), Number("lower95"), Number("upper95"), Number("worlds_p05", "Worlds, 5 %"), Number("worlds_p95", "Worlds, 95 %"), Text("withheld", "Withheld because"),
        ]);
        foreach (var plan in study.Plans)
        {
            foreach (var row in plan.Rows)
            {
                if (row.Figures(plan.Rule.Plan.Good) is not { } f)
                {
                    table.Add(plan.Rule.Plan.Name, row.Label, plan.Rule.Plan.Parts, "passes", (double?)null, (double?)null, (double?)null, (double?)null, (double?)null, row.Withheld);
                    continue;
                }

                foreach (var (name, s) in ((string, AssuranceShare)[])[("passes", f.Pass), ("is not good", f.NotGood), ("passes while not good", f.PassAndNotGood), ("a good one passes", f.PassIfGood)])
                {
                    table.Add(plan.Rule.Plan.Name, row.Label, plan.Rule.Plan.Parts, name, 100.0 * s.Estimate.Value, 100.0 * s.Estimate.Lower95, 100.0 * s.Estimate.Upper95, 100.0 * s.Band?.Lower05, 100.0 * s.Band?.Upper95, s.Estimate.Withheld);
                }
            }
        }

        return table;
    }

    /// <summary>Action limits.</summary>
    internal static Table Actions(ActionLimits actions)
    {
        var table = new Table("action_limits", [Text("rule", "Rule"), Number("uncertainty_percent", "u, %"), Number("guard_band_percent", "Guard band, %"), Number("lower_w_per_cm2", "Lower, W/cm²"), Number("upper_w_per_cm2", "Upper, W/cm²"), Number("risk_at_limit_percent", "Risk at the limit, %"), Text("withheld", "Withheld")]);
        foreach (var r in actions.Rows)
        {
            table.Add(r.Rule, 100.0 * actions.Uncertainty, 100.0 * r.Width, r.Lower, r.Upper, 100.0 * r.RiskAtLimit, r.Withheld);
        }

        return table;
    }

    /// <summary>Triggers of requalification.</summary>
    internal static Table Triggers(WindowResult result)
    {
        var table = new Table("requalification_triggers",
        [
            Text("trigger", "Trigger"), Text("seen_by", "Seen by"), Number("within_horizon_percent", "Within the horizon, %"), Number("within_lower95", "from"), Number("within_upper95", "to"), Number("tenth_hours", "One cell in ten by, h"), Number("tenth_lower95", "from"),
            Number("tenth_upper95", "to"), Number("median_hours", "Half by, h"), Number("median_lower95", "from"), Number("median_upper95", "to"), Text("remark", "Remark"),
        ]);
        foreach (var t in result.Triggers)
        {
            table.Add(
                t.Name, t.SeenBy, 100.0 * t.WithinHorizon?.Value, 100.0 * t.WithinHorizon?.Lower95, 100.0 * t.WithinHorizon?.Upper95, t.Tenth?.Value, t.Tenth?.Lower95, t.Tenth?.Upper95,
                t.Median?.Value, t.Median?.Lower95, t.Median?.Upper95, t.Remark ?? NoneSeen(t.WithinHorizon) ?? t.WithinHorizon?.Withheld ?? (t.Median?.Value is null ? t.Tenth?.Value is null ? "fewer than one cell in ten within the horizon" : "fewer than half within the horizon" : null));
        }

        return table;
    }

    // "None seen" proves something, and the remark has to say what: the page folds the bound's columns away when the value is missing.
    private static string? NoneSeen(Estimate? share) => share is { Value: null, Lower95: 0.0, Upper95: { } upper, Count: { } count }
        ? $"none seen in {Format.Count(count)}: below {Format.Value(100.0 * upper, "%", 3)} (one-sided 95 % upper bound)" : null;

    private static Column Text(string header, string? heading = null) => new(header, ColumnKind.Text, heading);

    private static Column Number(string header, string? heading = null) => new(header, ColumnKind.Number, heading);
}
