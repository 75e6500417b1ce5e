using System.Text;
using CureSim.Reports.Folders;
using CureSim.Reports.Runs;
using CureSim.Studies.ProcessWindow;

namespace CureSim.Reports.ProcessWindow;

/// <summary>Puts a process-window study into a folder of results.</summary>
public static class WindowFiles
{
    /// <summary>Adds its files.</summary>
    /// <param name="folder">Where to.</param>
    /// <param name="result">The study.</param>
    /// <param name="context">The scenario's texts.</param>
    /// <param name="plots">False: no plots.</param>
    /// <param name="cancel">Looked at between files.</param>
    public static void Add(ResultFolder folder, WindowResult result, RunContext context, bool plots, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(folder);
        ArgumentNullException.ThrowIfNull(result);
        ArgumentNullException.ThrowIfNull(context);
        RunFiles.AddStudy(folder, WindowSummary.Of(result, context.Sha256), context, WindowTables.Of(result), plots ? WindowPlots.Of(result) : [], cancel);
        if (!result.Challenges.IsEmpty)
        {
            folder.Add("protocol.html", Encoding.UTF8.GetBytes(ProtocolPage.Of(result, context)));
        }
    }
}
