using CureSim.Core.Cell;

namespace CureSim.Scenarios;

/// <summary>Sites, exposures and amounts.</summary>
internal static class ProductionRules
{
    public static void Run(Scenario cell, ReadContext context)
    {
        Production p = cell.Production;
        if (p.SiteCount % p.SitesPerPart != 0)
        {
            context.Problem("production.sites_per_part", FormattableString.Invariant($"{p.SitesPerPart} sites a part of {p.SiteCount} sites"), "a number that divides the sites");
        }

        double duty = p.PartsPerSecond * cell.Exposure.SettingSeconds / Math.Max(1, p.SiteCount / p.SitesPerPart);
        if (duty > 1)
        {
            context.Problem(
                "exposure.time", FormattableString.Invariant($"exposures that fill {duty * 100:0.#} % of the time at {p.PartsPerSecond * 3600:0.####} parts an hour"),
                "exposures that fit between parts", "write a shorter exposure, a lower production.rate or more sites");
        }

        if (cell.Source.Lit == LitDuring.Exposures && cell.Source.IgnitionSeconds > 0)
        {
            context.Problem("source.ignition_adds", "ignitions of an emitter that is lit during exposures only", "0 h, or \"lit: whole shift\"");
        }

        if (cell.Source.DriveMinimum > cell.Source.Drive)
        {
            context.Problem("source.drive", "a drive below drive_minimum", "a drive from drive_minimum to 100 %");
        }

        if ((long)cell.Run.Worlds * cell.Run.LifetimesPerWorld > int.MaxValue)
        {
            context.Problem("run.lifetimes", "more than 2147483647 lifetimes in all worlds", "worlds x lifetimes of at most 2147483647");
        }
    }
}
