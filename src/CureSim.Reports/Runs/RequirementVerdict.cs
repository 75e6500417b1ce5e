using CureSim.Core.Statistics;
using CureSim.Core.Summaries;
using CureSim.Studies.Runs;

namespace CureSim.Reports.Runs;

/// <summary>
/// Whether the cells keep the capability that the scenario requires: the 5th percentile over cells of the state index just before a check
/// (at the end of the horizon when nothing is checked) must reach it. Nineteen cells in twenty then meet it when it is hardest to meet.
/// </summary>
/// <param name="Required">Required state index.</param>
/// <param name="Moment">When the state is looked at, in words.</param>
/// <param name="Percentile">5th percentile over cells, with its Monte-Carlo interval.</param>
/// <param name="PercentileValue">The same without interval; −∞ or +∞ when it lies outside −3 to 4.</param>
/// <param name="MeetingPercent">Cells that meet it at that moment, %.</param>
/// <param name="IsMet">True when the 5th percentile reaches the requirement.</param>
public sealed record RequirementVerdict(double Required, string Moment, KeyFigure Percentile, double PercentileValue, KeyFigure? MeetingPercent, bool IsMet)
{
    /// <summary>True when the interval of the percentile holds the requirement: more lifetimes could turn the verdict.</summary>
    public bool IsClose => Percentile.Estimate is { Lower95: { } low, Upper95: { } high } && low <= Required && Required <= high;

    /// <summary>The verdict of a run; null when the scenario requires no capability.</summary>
    public static RequirementVerdict? Of(RunAnalysis run)
    {
        ArgumentNullException.ThrowIfNull(run);
        if (run.Scenario.Requalification.RequiredCapability is not { } required)
        {
            return null;
        }

        // The same two moments as in RunMeasures: 1 is just before a check, 2 the end.
        bool checks = run.Find("state_index_before_check_p05") is not null;
        string at = checks ? "before_check" : "end";
        double percentile = SummaryLayout.IndexQuantile(run.Whole.Summary.IndexAt[checks ? 1 : 2], 0.05);
        return new(
            required, checks ? "just before a check" : "at the end", run.Find($"state_index_{at}_p05")!, percentile,
            run.Find($"cells_meeting_{at}_percent"), percentile >= required);
    }
}
