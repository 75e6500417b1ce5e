using CureSim.Reports.Folders;
using CureSim.Reports.Runs;
using CureSim.Studies.Interval;

namespace CureSim.Reports.Interval;

/// <summary>Puts an interval study into a folder of results.</summary>
public static class IntervalFiles
{
    /// <summary>Adds its files.</summary>
    /// <param name="folder">Where to.</param>
    /// <param name="study">The study.</param>
    /// <param name="context">The scenario's texts.</param>
    /// <param name="plots">False: no plots.</param>
    /// <param name="cancel">Looked at between files.</param>
    public static void Add(ResultFolder folder, IntervalResult study, RunContext context, bool plots, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(context);
        RunFiles.AddStudy(folder, IntervalSummary.Of(study, context.Sha256), context, IntervalTables.Of(study), plots ? IntervalPlots.Of(study) : [], cancel);
    }
}
