using CureSim.Core.Cell;

namespace CureSim.Scenarios;

/// <summary>The process-window study and the cell that it is asked of.</summary>
internal static class WindowStudyRules
{
    public static void Run(Scenario cell, ReadContext context)
    {
        if (cell.WindowStudy is not { } study)
        {
            return;
        }

        if (cell.Checks is null && (study.Irradiance.From ?? study.Irradiance.To) is not null)
        {
            context.Problem("window_study", "a range of irradiance in a scenario without checks", "\"found\": without checks the setting is source.drive, which nothing sets to an irradiance");
        }

        if (study.Time.To is { } most && cell.Production is { SiteCount: > 0, SitesPerPart: > 0 } p && p.PartsPerSecond * most / Math.Max(1, p.SiteCount / p.SitesPerPart) > 1.0)
        {
            context.Problem("window_study.time_to", "an exposure longer than the time between parts", "exposures that fit between parts", "write a shorter time or a lower production.rate");
        }
    }
}
