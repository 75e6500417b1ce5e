using CureSim.Reports.Folders;
using CureSim.Reports.Runs;
using CureSim.Studies.Ownership;

namespace CureSim.Reports.Ownership;

/// <summary>Puts an ownership study into a folder of results.</summary>
public static class OwnershipFiles
{
    /// <summary>Name of the file that holds an option's resolved scenario.</summary>
    /// <param name="place">Its place among the files, from 0.</param>
    public static string Scenario(int place) => FormattableString.Invariant($"option-{place + 1}.yaml");

    /// <summary>Adds the files of a study.</summary>
    /// <param name="folder">Where to.</param>
    /// <param name="study">The study.</param>
    /// <param name="resolved">Resolved scenarios, in the order of the options.</param>
    /// <param name="plots">False: no plots.</param>
    /// <param name="cancel">Looked at between files.</param>
    public static void Add(ResultFolder folder, OwnershipResult study, IReadOnlyList<string> resolved, bool plots, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(folder);
        folder.Add("summary.json", OwnershipSummary.Of(study).ToBytes());
        AddScenarios(folder, resolved);
        RunFiles.AddTables(folder, OwnershipTables.Of(study), cancel);
        if (plots)
        {
            RunFiles.AddPlots(folder, OwnershipPlots.Of(study), cancel);
        }
    }

    /// <summary>Adds the files of a sweep over sites.</summary>
    public static void Add(ResultFolder folder, SitesSweep sweep, IReadOnlyList<string> resolved, bool plots, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(folder);
        folder.Add("summary.json", SitesReport.Document(sweep).ToBytes());
        AddScenarios(folder, resolved);
        RunFiles.AddTables(folder, [SitesReport.Table(sweep)], cancel);
        if (plots)
        {
            RunFiles.AddPlots(folder, SitesReport.Plots(sweep), cancel);
        }
    }

    private static void AddScenarios(ResultFolder folder, IReadOnlyList<string> resolved)
    {
        for (int i = 0; i < resolved.Count; i++)
        {
            folder.Add(Scenario(i), resolved[i]);
        }
    }
}
