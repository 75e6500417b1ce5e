using System.Collections.Immutable;
using CureSim.Core.Cell;

namespace CureSim.Scenarios;

/// <summary>The present state of the plant.</summary>
internal static class PresentStateRules
{
    public static void Run(Scenario cell, ReadContext context)
    {
        if (cell.Now is not { } now)
        {
            return;
        }

        if (cell.Guide is null && (now.GuideLitSeconds is not null || now.LegShares is not null))
        {
            context.Problem(now.GuideLitSeconds is not null ? "now.guide_hours" : "now.leg_shares", "a state of the guide in a cell without one", "a guide block");
        }

        if (now.Drive is { } drive && drive.Any(d => d < cell.Source.DriveMinimum))
        {
            context.Problem("now.drive", "a drive below source.drive_minimum", "from drive_minimum to 100 %");
        }

        if (now.LastAsLeftWattsPerSquareMetre is not null && now.Drive is null)
        {
            context.Problem("now.last_as_left", "as-left indications without the drive that they were read at", "drive beside last_as_left");
        }

        Late(context, "now.emitter_hours", now.EmitterBurnSeconds, cell.Source.ReplaceAtBurnSeconds, "source.replace_at");
        Late(context, "now.guide_hours", now.GuideLitSeconds, cell.Guide?.ReplaceAtLitSeconds, "guide.replace_at");
    }

    private static void Late(ReadContext context, string path, ImmutableArray<double>? now, double? planned, string plan)
    {
        if (now is { } hours && hours.Any(h => h >= planned))
        {
            context.Warning(path, $"hours beyond {plan}: replaced in the first step", $"less than {plan}");
        }
    }
}
