using CureSim.Reports.Folders;
using CureSim.Reports.Runs;
using CureSim.Studies.Drivers;

namespace CureSim.Reports.Drivers;

/// <summary>Puts a drivers study into a folder of results.</summary>
public static class DriversFiles
{
    /// <summary>Adds its files.</summary>
    /// <param name="folder">Where to.</param>
    /// <param name="study">The study.</param>
    /// <param name="context">The scenario's texts.</param>
    /// <param name="plots">False: no plots.</param>
    /// <param name="cancel">Looked at between files.</param>
    public static void Add(ResultFolder folder, DriversResult study, RunContext context, bool plots, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(folder);
        ArgumentNullException.ThrowIfNull(context);
        folder.Add("summary.json", DriversSummary.Of(study, context.Sha256).ToBytes());
        folder.Add("scenario.yaml", context.ResolvedYaml);
        RunFiles.AddTables(folder, DriversTables.Of(study), cancel);
        if (plots)
        {
            RunFiles.AddPlots(folder, DriversPlots.Of(study), cancel);
        }
    }
}
