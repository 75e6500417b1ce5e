using System.Collections.Immutable;
using CureSim.Reports.Folders;
using CureSim.Reports.Runs;

namespace CureSim.Reports.SelfCheck;

/// <summary>The files of a self-check.</summary>
public static class SelfCheckFiles
{
    /// <summary>What stands where the results of a scenario have the scenario's name.</summary>
    public const string Name = "self-check";

    /// <summary>Columns of the text file.</summary>
    private const int Columns = 118;

    /// <summary>Files that hold date and machine, so that no two records have the same bytes.</summary>
    public static ImmutableArray<string> Dated { get; } = ["self-check.html", "self-check.txt"];

    /// <summary>Adds page, text, tables and summary.</summary>
    public static void Add(ResultFolder folder, SelfCheckRecord record, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(folder);
        ArgumentNullException.ThrowIfNull(record);
        var text = new SelfCheckText(record, Columns);
        folder.Add("self-check.html", SelfCheckPage.Of(record));
        folder.Add("self-check.txt", $"CureSim self-check\n\n{Place(record.Place)}\n\n{text.Misses()}{text.Table()}{text.Summary()}");
        var summary = SelfCheckSummary.Of(record);
        MachineDigits.Apply(summary.Root);
        folder.Add("summary.json", summary.ToBytes());
        RunFiles.AddTables(folder, SelfCheckTables.Of(record), cancel);
    }

    private static string Place(CheckedPlace p) => string.Create(
        System.Globalization.CultureInfo.InvariantCulture,
        $"version      {p.Version}, commit {p.Commit ?? "not known"}\ndate         {p.Started.ToUniversalTime():yyyy-MM-dd HH:mm:ss} UTC, {p.Seconds:F1} s on {p.Threads} threads\nsystem       {p.System}, {p.Architecture}\ninstructions {p.Instructions}\nruntime      {p.Runtime}");
}
