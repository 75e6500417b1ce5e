using CureSim.Reports.Folders;

namespace CureSim.Reports.Runs;

/// <summary>Puts a comparison into a folder of results.</summary>
public static class CompareFiles
{
    /// <summary>Adds the files of a comparison.</summary>
    /// <param name="folder">Where to.</param>
    /// <param name="compared">The comparison.</param>
    /// <param name="plots">False: no plots.</param>
    /// <param name="cancel">Looked at between files.</param>
    public static void Add(ResultFolder folder, ComparedRuns compared, bool plots, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(folder);
        ArgumentNullException.ThrowIfNull(compared);
        folder.Add("summary.json", CompareSummary.Of(compared).ToBytes());
        folder.Add("scenario.yaml", compared.A.Context.ResolvedYaml);
        folder.Add("other-scenario.yaml", compared.B.Context.ResolvedYaml);
        RunFiles.AddTables(folder, CompareTables.Of(compared), cancel);
        if (plots)
        {
            RunFiles.AddPlots(folder, CompareFigures.Of(compared), cancel);
        }
    }
}
