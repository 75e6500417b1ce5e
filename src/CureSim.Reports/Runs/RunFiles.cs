using CureSim.Reports.Figures;
using CureSim.Reports.Folders;
using CureSim.Reports.Json;
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
        ArgumentNullException.ThrowIfNull(findings);
        AddStudy(folder, RunSummary.Of(findings), findings.Context, RunTables.Of(findings), plots ? RunFigures.Of(findings) : [], cancel);
    }

    /// <summary>Adds what every study of one scenario leaves: summary, resolved scenario, tables, plots.</summary>
    public static void AddStudy(
        ResultFolder folder, SummaryDocument summary, RunContext context, IEnumerable<Table> tables, IEnumerable<(string Name, Figure Figure)> figures, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(folder);
        ArgumentNullException.ThrowIfNull(summary);
        ArgumentNullException.ThrowIfNull(context);
        folder.Add("summary.json", summary.ToBytes());
        folder.Add("scenario.yaml", context.ResolvedYaml);
        AddTables(folder, tables, cancel);
        AddPlots(folder, figures, cancel);
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
