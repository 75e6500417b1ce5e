using CureSim.Core.Cell;
using CureSim.Core.Numerics;
using CureSim.Engine.Plan;
using CureSim.Engine.State;

namespace CureSim.Studies.ProcessWindow;

/// <summary>Ranges of the usual axes that are not given: wide enough to hold the edges, narrow enough to resolve them.</summary>
internal static class FoundAxes
{
    private const double Octave = 2.0;
    private const double Margin = 1.25;

    /// <summary>Half to twice the cell's own setting, at most what a new emitter at full drive gives.</summary>
    public static WindowAxis Irradiance(Scenario cell, RunPlan plan)
    {
        var study = cell.WindowStudy ?? WindowStudy.Usual;
        double own = WindowCase.SettingOf(cell);
        if (cell.Checks is null)
        {
            return WindowAxis.Of("source.drive", "Drive", "", Math.Max(cell.Source.DriveMinimum, own / Octave), Math.Min(1.0, own * Octave), study.Nodes, true);
        }

        // Without checks the nominal state is that of full drive; geometry cancels between the two.
        var full = cell with { Checks = null, Source = cell.Source with { Drive = 1.0 } };
        double reach = own * BlockMath.Exp(NominalState.LogIrradiance(full, plan.FirstWorld)[0] - NominalState.LogIrradiance(cell, plan.FirstWorld)[0]);
        double from = study.Irradiance.From / 1e4 ?? own / Octave;
        double to = study.Irradiance.To / 1e4 ?? Math.Max(own * 1.1, Math.Min(own * Octave, reach));
        return WindowAxis.Of("checks.target", "Irradiance setting", "W/cm²", from, to, study.Nodes, study.Irradiance is not { From: not null, To: not null });
    }

    /// <summary>Times at which a nominal bond is inside its limits somewhere along the irradiance axis, and a quarter beyond; at most the time between parts.</summary>
    public static WindowAxis Time(Scenario cell, RunPlan plan, WindowAxis x)
    {
        var study = cell.WindowStudy ?? WindowStudy.Usual;
        double own = cell.Exposure.SettingSeconds, low = own / Octave, high = own * Octave;
        if (study.Time is not { From: not null, To: not null } && x.Key is "checks.target" or "source.drive")
        {
            var inside = new List<double>();
            foreach (double setting in (double[])[x.From, Math.Sqrt(x.From * x.To), x.To])
            {
                var at = WindowCase.Set(cell, setting, own);
                double[] logE = NominalState.LogIrradiance(at, plan.FirstWorld);
                double logRate = cell.Cure is { } cure ? BlockMath.Log(cure.RateLot.Varies.Quantile(0.5) * plan.FirstWorld.Values.Factor(cure.RateLot)) : 0.0;
                for (int k = -80; k <= 80; k++)
                {
                    double t = own * Math.Exp(k * Math.Log(8.0) / 80.0);
                    var judge = new StateJudge(at with { Exposure = at.Exposure with { SettingSeconds = t }, Window = LimitSide.Filled(cell.Window) }, plan.FirstWorld.Values, plan.FirstWorld.Judge.Table);
                    if (judge.NominalMargin(logE, logRate, 0.0) >= 0.0)
                    {
                        inside.Add(t);
                    }
                }
            }

            if (inside.Count > 0)
            {
                (low, high) = (inside.Min() / Margin, Math.Min(inside.Max() * Margin, inside.Min() * 6.0));
            }
        }

        double between = cell.Production.PartsAtOnce / cell.Production.PartsPerSecond;
        double from = study.Time.From ?? Math.Min(low, 0.5 * between), to = study.Time.To ?? Math.Min(high, between);
        return WindowAxis.Of("exposure.time", "Exposure time", "s", from, to, study.Nodes, study.Time is not { From: not null, To: not null });
    }
}
