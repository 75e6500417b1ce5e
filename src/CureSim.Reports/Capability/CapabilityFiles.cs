using CureSim.Reports.Folders;
using CureSim.Reports.Runs;
using CureSim.Studies.Capability;

namespace CureSim.Reports.Capability;

/// <summary>Puts what is known of a sample into a folder of results.</summary>
public static class CapabilityFiles
{
    /// <summary>Adds the files.</summary>
    /// <param name="folder">Where to.</param>
    /// <param name="analysis">The sample judged.</param>
    /// <param name="context">Where it comes from.</param>
    /// <param name="plots">False: no plots.</param>
    /// <param name="cancel">Looked at between files.</param>
    public static void Add(ResultFolder folder, CapabilityAnalysis analysis, CapabilityContext context, bool plots, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(folder);
        folder.Add("summary.json", CapabilitySummary.Of(analysis, context).ToBytes());
        RunFiles.AddTables(folder, CapabilityTables.Of(analysis, context), cancel);
        if (plots)
        {
            RunFiles.AddPlots(folder, CapabilityFigures.Of(analysis, context), cancel);
        }
    }
}
