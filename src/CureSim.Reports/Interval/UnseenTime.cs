using CureSim.Studies.Interval;

namespace CureSim.Reports.Interval;

/// <summary>Unseen time by cell, hours a year, sorted.</summary>
internal static class UnseenTime
{
    /// <summary>Out of the qualified state before anybody knows.</summary>
    public static double[] OutOfState(CandidateRun run) => Sorted(run, r => r.OutUndetectedSeconds);

    /// <summary>With a nominal bond outside the window before anybody knows.</summary>
    public static double[] OutOfWindow(CandidateRun run) => Sorted(run, r => r.OutOfWindowUndetectedSeconds);

    private static double[] Sorted(CandidateRun run, Func<Core.Summaries.LifetimeRecord, double> seconds)
    {
        var p = run.Scenario.Production;
        return [.. run.Records.ToArray().Select(r => seconds(r) / 3600.0 * p.YearSeconds / p.HorizonSeconds).Order()];
    }
}
