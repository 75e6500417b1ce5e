using CureSim.Reports.Figures;
using CureSim.Reports.Folders;
using CureSim.Reports.Rendering;
using CureSim.Reports.Tables;

namespace CureSim.Reports.Runs;

/// <summary>Puts what was worked out into a folder of results: summary.json, tables, plots, the resolved scenario.</summary>
public static class RunFiles
{
    /// <summary>Adds the files of a run.</summary>
    /// <param name="folder">Where to.</param>
    /// <param name="findings">The run.</param>
    /// <param name="plots">False: no plots.</param>
    /// <param name="cancel">Looked at between files.</param>
    public static void Add(ResultFolder folder, RunFindings findings, bool plots, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(folder);
        ArgumentNullException.ThrowIfNull(findings);
        folder.Add("summary.json", RunSummary.Of(findings).ToBytes());
        folder.Add("scenario.yaml", findings.Context.ResolvedYaml);
        AddTables(folder, RunTables.Of(findings), cancel);
        if (plots)
        {
            AddPlots(folder, RunFigures.Of(findings), cancel);
        }
    }

    /// <summary>Adds tables as tables/name.csv, numbers rounded to <see cref="MachineDigits.Count"/> significant digits.</summary>
    public static void AddTables(ResultFolder folder, IEnumerable<Table> tables, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(folder);
        ArgumentNullException.ThrowIfNull(tables);
        foreach (var table in tables)
        {
            cancel.ThrowIfCancellationRequested();
            folder.Add($"tables/{table.Name}.csv", CsvText.Bytes(MachineDigits.Of(table)));
        }
    }

    /// <summary>Adds figures as plots/name.png and plots/name.svg.</summary>
    public static void AddPlots(ResultFolder folder, IEnumerable<(string Name, Figure Figure)> figures, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(folder);
        ArgumentNullException.ThrowIfNull(figures);
        foreach (var (name, figure) in figures)
        {
            cancel.ThrowIfCancellationRequested();
            folder.Add($"plots/{name}.png", FigureRenderer.Png(figure));
            cancel.ThrowIfCancellationRequested();
            folder.Add($"plots/{name}.svg", FigureRenderer.Svg(figure));
        }
    }
}
