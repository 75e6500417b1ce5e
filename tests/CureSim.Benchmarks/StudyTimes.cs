using CureSim.Core.Cell;
using CureSim.Reports.Tables;
using CureSim.Studies.Drivers;
using CureSim.Studies.Interval;
using CureSim.Studies.Ownership;
using CureSim.Studies.ProcessWindow;
using CureSim.Studies.Runs;

namespace CureSim.Benchmarks;

/// <summary>What a study costs beside as many plain runs as would answer the same question.</summary>
internal static class StudyTimes
{
    public static int Run()
    {
        ResultTable.Write(Measure(lifetimes: 2000, nodes: 30));
        return 0;
    }

    /// <summary>Each study once, all processors; the plain run of the same scenario and lifetimes as the median of three.</summary>
    /// <param name="lifetimes">Lifetimes of each run.</param>
    /// <param name="nodes">Settings along each axis of the maps.</param>
    /// <param name="drivers">False: without the study whose size does not follow the lifetimes.</param>
    public static Table Measure(int lifetimes, int nodes, bool drivers = true)
    {
        int threads = Environment.ProcessorCount;
        var table = new Table(
            "studies",
            new("study", ColumnKind.Text),
            new("scenario", ColumnKind.Text),
            new("lifetimes", ColumnKind.Whole),
            new("seconds", ColumnKind.Number),
            new("seconds_of_one_run", ColumnKind.Number),
            new("runs_that_would_do", ColumnKind.Whole),
            new("ratio_to_those_runs", ColumnKind.Number));
        string[] size = [$"run.lifetimes={lifetimes}", "run.worlds=1"];
        foreach (var (file, sets) in ((string, string[])[])[("check-interval.yaml", []), ("process-window.yaml", ["cure.exponent=0.6"])])
        {
            var cell = Cases.Read(file, [.. size, .. sets, $"window_study.nodes={nodes}"]);
            double run = Seconds(3, () => RunAnalysis.Run(new(cell), threads));
            Add(table, $"window, {nodes} x {nodes} settings, every one", file, lifetimes, run, nodes * nodes, () => WindowResult.Run(new WindowCase(cell), threads, mapOnly: true, everyNode: true));
            Add(table, $"window, {nodes} x {nodes} settings, near the contours", file, lifetimes, run, nodes * nodes, () => WindowResult.Run(new WindowCase(cell), threads, mapOnly: true));
        }

        var timed = Cases.Read("check-interval.yaml", size);
        double one = Seconds(3, () => RunAnalysis.Run(new(timed), threads));
        IntervalResult? found = null;
        double candidates = Seconds(1, () => found = IntervalResult.Run(timed, threads, beside: false));
        Add(table, "interval, candidates alone", "check-interval.yaml", lifetimes, one, found!.Candidates.Length, candidates);
        if (drivers)
        {
            Add(table, "drivers", "check-interval.yaml", lifetimes, one, null, () => DriversResult.Run(timed, 0, null, threads));
        }

        string[] worlds = ["run.worlds=10", $"run.lifetimes={Math.Max(2, lifetimes / 10)}"]; // the pair has unknowns
        Scenario lamp = Cases.Read("own-lamp.yaml", worlds), led = Cases.Read("own-led.yaml", worlds);
        double pair = Seconds(1, () => RunAnalysis.Run(new(lamp), threads)) + Seconds(1, () => RunAnalysis.Run(new(led), threads));
        Add(table, "ownership, present routines", "own-lamp.yaml, own-led.yaml", lifetimes, 0.5 * pair, 2, () => OwnershipResult.Run([new("lamp", lamp, ""), new("LED", led, "")], threads, beside: false));
        return table;
    }

    private static void Add(Table table, string study, string file, int lifetimes, double run, int? runs, Action what) => Add(table, study, file, lifetimes, run, runs, Seconds(1, what));

    private static void Add(Table table, string study, string file, int lifetimes, double run, int? runs, double seconds) => table.Add(
        study, file, lifetimes, ResultTable.Digits(seconds), ResultTable.Digits(run), runs is { } n ? n : Cell.Missing, runs is { } k ? ResultTable.Digits(k * run / seconds) : Cell.Missing);

    private static double Seconds(int rounds, Action what) => ResultTable.Median(Enumerable.Range(0, rounds).Select(_ =>
    {
        var clock = System.Diagnostics.Stopwatch.StartNew();
        what();
        return clock.Elapsed.TotalSeconds;
    }));
}
