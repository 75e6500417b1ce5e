using System.Collections.Immutable;
using CureSim.Core.Logs;

namespace CureSim.Studies.Fit;

/// <summary>How the life of an emitter ends in the log.</summary>
public enum EmitterEnd
{
    /// <summary>The log ends first.</summary>
    StillRunning,

    /// <summary>Replaced for another reason than its failure: not a failure.</summary>
    Replaced,

    /// <summary>It failed.</summary>
    Failed,
}

/// <summary>One reading, or the mean of readings that were repeated at once.</summary>
/// <param name="Line">Line of the (first) reading.</param>
/// <param name="Clock">Clock of the log, h; NaN without one.</param>
/// <param name="Hours">Emitter hours.</param>
/// <param name="LogOutput">ln of the fitted quantity: mean over the repeats.</param>
/// <param name="Repeats">Readings in it.</param>
/// <param name="Level">Site, radiometer and side of any step: readings that share a level differ by ageing only.</param>
/// <param name="Reading">Mean reading, unit of the log.</param>
public sealed record Observation(int Line, double Clock, double Hours, double LogOutput, int Repeats, string Level, double Reading);

/// <summary>One emitter as the log shows it.</summary>
/// <param name="Name">Its name: the log's, or "emitter 1".</param>
/// <param name="FirstHours">Emitter hours when the log first sees it: above zero, its life is left-truncated. NaN when they are not known.</param>
/// <param name="LastHours">Emitter hours when it ends or the log does.</param>
/// <param name="End">How it ends.</param>
/// <param name="Observations">What can be fitted, in order; empty where hours are not known.</param>
/// <param name="Rows">Its rows.</param>
public sealed record EmitterRun(string Name, double FirstHours, double LastHours, EmitterEnd End, ImmutableArray<Observation> Observations, ImmutableArray<LogRow> Rows);
