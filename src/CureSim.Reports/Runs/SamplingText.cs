using CureSim.Core.Cell;
using CureSim.Engine.Plan;

namespace CureSim.Reports.Runs;

/// <summary>How lifetimes were drawn, in a word for files.</summary>
public static class SamplingText
{
    /// <summary>"stratified" or "independent": what a run of these settings does, also where the choice is left to the program.</summary>
    public static string Of(RunSettings run) => SamplingRule.IsStratified(run) ? "stratified" : "independent";
}
