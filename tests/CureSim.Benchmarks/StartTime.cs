using System.Diagnostics;
using CureSim.Reports.Tables;

namespace CureSim.Benchmarks;

/// <summary>Time from the start of the built tool to its first answer or progress.</summary>
internal static class StartTime
{
    public static int Run(string tool)
    {
        ResultTable.Write(Measure(tool, rounds: 9));
        return 0;
    }

    /// <param name="tool">Path of curesim.dll or of the program itself.</param>
    /// <param name="rounds">Starts; the median counts.</param>
    public static Table Measure(string tool, int rounds)
    {
        string scenario = Path.Combine(ResultTable.Root, "scenarios", "quick.yaml");
        var table = new Table("start", new("what", ColumnKind.Text), new("rounds", ColumnKind.Whole), new("seconds", ColumnKind.Number));
        (string What, string[] Arguments)[] starts = [("version", ["--version"]), ("show, a scenario read and described", ["show", scenario]), ("run of 16 lifetimes, without plots", ["run", scenario, "--lifetimes", "16", "--no-plots", "--out", Path.Combine(Path.GetTempPath(), "curesim-start")])];
        foreach (var (what, arguments) in starts)
        {
            table.Add(what, rounds, ResultTable.Digits(ResultTable.Median(Enumerable.Range(0, rounds).Select(_ => Seconds(tool, arguments)))));
        }

        return table;
    }

    private static double Seconds(string tool, string[] arguments)
    {
        bool library = tool.EndsWith(".dll", StringComparison.Ordinal);
        var start = new ProcessStartInfo(library ? "dotnet" : tool) { RedirectStandardOutput = true, RedirectStandardError = true };
        foreach (string argument in library ? [tool, .. arguments] : arguments)
        {
            start.ArgumentList.Add(argument);
        }

        var clock = Stopwatch.StartNew();
        using var process = Process.Start(start)!;
        var errors = process.StandardError.ReadToEndAsync();
        process.StandardOutput.ReadToEnd();
        process.WaitForExit();
        if (process.ExitCode != 0)
        {
            throw new InvalidOperationException(errors.Result);
        }

        return clock.Elapsed.TotalSeconds;
    }
}
