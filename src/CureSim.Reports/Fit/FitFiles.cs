using CureSim.Reports.Folders;
using CureSim.Reports.Runs;
using CureSim.Studies.Fit;

namespace CureSim.Reports.Fit;

/// <summary>Puts a fitted log into a folder of results.</summary>
public static class FitFiles
{
    /// <summary>Adds the files.</summary>
    public static void Add(ResultFolder folder, LogFit fit, FitContext context, PredictiveCheck? check, bool plots, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(folder);
        folder.Add("summary.json", FitSummary.Of(fit, context, check).ToBytes());
        folder.Add("fitted.yaml", FitBlock.Of(fit, context));
        RunFiles.AddTables(folder, FitTables.Of(fit, context, check), cancel);
        if (plots)
        {
            RunFiles.AddPlots(folder, FitPlots.Of(fit, context, check), cancel);
        }
    }
}
