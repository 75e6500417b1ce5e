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
        ArgumentNullException.ThrowIfNull(context);
        RunFiles.AddStudy(folder, DriversSummary.Of(study, context.Sha256), context, DriversTables.Of(study), plots ? DriversPlots.Of(study) : [], cancel);
    }
}
