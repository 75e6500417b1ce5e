using CureSim.Reports.Folders;
using CureSim.Reports.Runs;
using CureSim.Studies.Assurance;

namespace CureSim.Reports.Assurance;

/// <summary>Puts an assurance study into a folder of results.</summary>
public static class AssuranceFiles
{
    /// <summary>Adds its files.</summary>
    /// <param name="folder">Where to.</param>
    /// <param name="study">The study.</param>
    /// <param name="context">The scenario's texts.</param>
    /// <param name="plots">False: no plots.</param>
    /// <param name="cancel">Looked at between files.</param>
    public static void Add(ResultFolder folder, AssuranceStudy study, RunContext context, bool plots, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(context);
        RunFiles.AddStudy(folder, AssuranceSummary.Of(study, context.Sha256), context, AssuranceTables.Of(study), plots ? AssurancePlots.Of(study) : [], cancel);
    }
}
