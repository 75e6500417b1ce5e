using CureSim.Core.Cell;

namespace CureSim.Scenarios;

/// <summary>Uneven checks and the candidates of the interval study.</summary>
internal static class IntervalRules
{
    public static void Run(Scenario cell, ReadContext context)
    {
        if (cell.Checks is { } checks)
        {
            Uneven(cell, context, "checks", checks.IntervalSteps, checks.AfterReplacement, checks.WhenDriveAbove, checks.WhenAlarm);
        }

        if (cell.IntervalStudy is not { } study)
        {
            return;
        }

        if (cell.Checks is null)
        {
            context.Problem("interval_study", "an interval study in a scenario without checks", "a block \"checks\", whose limits the candidates share");
        }

        int routine = 0;
        foreach (var candidate in study.Candidates)
        {
            string path = candidate.IsPlain && routine == 0 && context.PlaceOf("interval_study.intervals") != context.PlaceOf("interval_study") ? "interval_study.intervals" : "interval_study.routines";
            Timing(cell, context, candidate, path);
            routine += candidate.IsPlain ? 0 : 1;
            Uneven(cell, context, path, candidate.IntervalSteps, candidate.AfterReplacement, candidate.WhenDriveAbove, candidate.WhenAlarm);
        }

        foreach (var twice in study.Candidates.GroupBy(c => c.Name).Where(g => g.Count() > 1))
        {
            context.Problem("interval_study", $"the candidate \"{twice.Key}\" {twice.Count()} times", "candidates that differ, with names of their own");
        }
    }

    private static void Timing(Scenario cell, ReadContext context, CheckTiming candidate, string path)
    {
        if (cell.Production.StepCount > 0 && candidate.IntervalSteps > cell.Production.StepCount)
        {
            context.Problem(path, $"\"{candidate.Name}\", longer than the horizon", "intervals that the horizon holds", "write a longer production.horizon");
        }

        if (cell.Checks is { LateProbability: > 0 } checks && candidate.IntervalSteps > 0 && checks.LateSteps >= candidate.IntervalSteps)
        {
            context.Problem(path, $"\"{candidate.Name}\", not longer than the delay of a late check", "intervals longer than checks.late.by");
        }
    }

    private static void Uneven(Scenario cell, ReadContext context, string path, int interval, ChecksAfterReplacement? after, double? drive, bool alarm)
    {
        if (after is { IntervalSteps: > 0 } && interval > 0 && after.IntervalSteps >= interval)
        {
            context.Problem(path + ".after_replacement", "an interval after a replacement that is not shorter than that of the calendar", "a shorter interval");
        }

        if (drive is not null && cell.Loop.Kind == LoopKind.None)
        {
            context.Problem(path + ".when_drive_above", "a drive to be watched where no loop moves it", "\"none\", or a loop");
        }

        if (alarm && !(cell.Loop.Alarm && cell.Loop.Kind != LoopKind.None))
        {
            context.Problem(path + ".when_alarm", "checks after an alarm that the loop does not have", "false, or loop.alarm: true");
        }
    }
}
