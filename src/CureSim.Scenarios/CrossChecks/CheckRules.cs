using CureSim.Core.Cell;
using CureSim.Core.Model.Ageing;

namespace CureSim.Scenarios;

/// <summary>The check routine: limits, target, and whether it can hold the cell at all.</summary>
internal static class CheckRules
{
    public static void Run(Scenario cell, ReadContext context)
    {
        if (cell.Checks is { } checks)
        {
            Limits(checks, cell, context);
            Times(checks, cell, context);
            Target(checks, cell, context);
            Drift(checks, cell, context);
        }

        Nominal(cell, context);
    }

    private static void Limits(Checks c, Scenario cell, ReadContext context)
    {
        if (c.AdjustLimit > c.ActionLimit)
        {
            context.Problem("checks.adjust", "an adjust limit above the action limit", "adjust <= action <= tolerance");
        }

        if (c.ActionLimit > c.ToleranceLimit)
        {
            context.Problem("checks.tolerance", "a tolerance limit below the action limit", "adjust <= action <= tolerance");
        }

        if (c.ToleranceLimit is null && cell.Requalification.RequiredCapability is null)
        {
            context.Problem("checks.tolerance", "\"from window\" without a required capability", "a percentage, or requalification.capability");
        }

        if (c.WhenShort is WhenShort.Guide or WhenShort.LargerLoss && cell.Guide is null)
        {
            context.Problem("checks.when_short", $"\"{(c.WhenShort == WhenShort.Guide ? "guide" : "larger loss")}\" in a cell without a guide", "\"emitter\" or \"nothing\"");
        }

        if (c.LegLimit is not null && (cell.Source.Arrangement == EmitterArrangement.OnePerSite || cell.Production.SiteCount == 1))
        {
            context.Problem("checks.leg_limit", "a limit for legs where a guide has one leg only", "\"none\"");
        }
    }

    private static void Times(Checks c, Scenario cell, ReadContext context)
    {
        if (c.IntervalSteps > cell.Production.StepCount && cell.Production.StepCount > 0)
        {
            context.Warning("checks.interval", "an interval longer than the horizon: no check is made", "at most production.horizon");
        }

        if (c.LateSteps >= c.IntervalSteps && c.IntervalSteps > 0 && c.LateSteps > 0)
        {
            context.Problem("checks.late.by", "a delay that is not less than the interval", "less than checks.interval");
        }
    }

    private static void Target(Checks c, Scenario cell, ReadContext context)
    {
        LightBudget budget = LightBudget.Nominal(cell);
        string where = c.MeasuredAt == MeasuredAt.BondFixture ? "bond fixture" : "tip adapter";
        double full = budget.FullDriveAtRadiometer;
        double target = c.TargetWattsPerSquareMetre;
        if (target > full)
        {
            context.Problem(
                "checks.target", $"{Shown(target)}, which a new emitter does not reach: it gives {Shown(full)} at the {where} with full drive", $"at most {Shown(full)}");
        }
        else if (target < full * cell.Source.DriveMinimum)
        {
            context.Problem(
                "checks.target", $"{Shown(target)}, which is below what the lowest drive gives at the {where} ({Shown(full * cell.Source.DriveMinimum)})",
                $"at least {Shown(full * cell.Source.DriveMinimum)}");
        }
        else if (target * (1 + c.ActionLimit) > full)
        {
            context.Warning(
                "checks.target", FormattableString.Invariant($"{Shown(target)}, which leaves {((full / target) - 1) * 100:0.#} % of headroom with a new emitter"),
                "more headroom than the action limit");
        }
    }

    // What a check is bound to find: mean losses in one interval that nothing between checks makes good.
    private static void Drift(Checks c, Scenario cell, ReadContext context)
    {
        Production p = cell.Production;
        double interval = c.IntervalSteps * p.StepSeconds;
        double exposures = p.PartsPerSecond * interval / Math.Max(1, p.SiteCount / p.SitesPerPart);
        double exposed = exposures * cell.Exposure.SettingSeconds;
        double burn = cell.Source.Lit == LitDuring.WholeShift ? interval : exposed;
        double fouling = cell.Tip.Fouling.Mean * exposures;
        double guide = cell.Guide is { } g ? g.Loss.Mean * (g.Lit == LitDuring.Exposures ? exposed : burn) : 0;
        double ageing = cell.Loop.Kind == LoopKind.None && !cell.Source.Ageing.IsEmpty ? MeanAgeing(cell, burn) : 0;
        double sensor = cell.Loop.Kind == LoopKind.None ? 0 : Math.Abs(cell.Loop.SensorDrift.Mean) * interval;
        double total = fouling + guide + ageing + sensor;
        if (total > c.ActionLimit)
        {
            context.Warning(
                "checks.interval",
                FormattableString.Invariant(
                    $"an interval in which the output falls by {total * 100:0.#} % on average (fouling {fouling * 100:0.#} %, guide {guide * 100:0.#} %, ageing {ageing * 100:0.#} %, sensor {sensor * 100:0.#} %): most checks will find it beyond the action limit"),
                FormattableString.Invariant($"less than the action limit of {c.ActionLimit * 100:0.##} %"));
        }
    }

    // ln loss in one interval, averaged over the life of an emitter.
    private static double MeanAgeing(Scenario cell, double burn)
    {
        double horizon = cell.Production.HorizonSeconds * (cell.Source.Lit == LitDuring.WholeShift ? 1
            : cell.Production.PartsPerSecond * cell.Exposure.SettingSeconds / Math.Max(1, cell.Production.PartsAtOnce));
        double life = Math.Min(cell.Source.ReplaceAtBurnSeconds ?? horizon, horizon);
        return life > 0 ? -Math.Log(Output(cell.Source, life)) * Math.Min(1, burn / life) : 0;
    }

    // Relative output with the parameters at their means, averaged over candidate laws by weight.
    private static double Output(Source source, double burn)
    {
        double sum = 0;
        foreach (AgeingAlternative alternative in source.Ageing)
        {
            var model = new AgeingModel(alternative.Law);
            double[] p = [.. model.Parameters.Select(q => q.Mean), 0, 0];
            sum += alternative.Weight * model.Output(burn, p[0], p[1], p[2]);
        }

        return sum / source.Ageing.Sum(a => a.Weight);
    }

    private static void Nominal(Scenario cell, ReadContext context)
    {
        foreach (NominalResponse response in LightBudget.Nominal(cell).Responses.Where(r => r.IsOutside))
        {
            context.Warning(
                "window." + WindowRules.KeyOf(response.Response), $"limits that the nominal bond of a new cell is outside: {ShownResponse(response.Response, response.Value)}",
                "limits with the nominal bond inside; see the light budget");
        }
    }

    private static string Shown(double irradiance) => FormattableString.Invariant($"{irradiance / 1e4:0.###} W/cm2");

    private static string ShownResponse(Response response, double value) => response switch
    {
        Response.Irradiance => Shown(value),
        Response.Dose => FormattableString.Invariant($"{value / 1e4:0.###} J/cm2"),
        _ => FormattableString.Invariant($"{value * 100:0.##} %"),
    };
}
