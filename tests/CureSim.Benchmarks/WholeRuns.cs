using CureSim.Core.Cell;
using CureSim.Engine.Runs;
using CureSim.Reports.Tables;

namespace CureSim.Benchmarks;

/// <summary>Whole runs of the engine beside the NumPy script: bond exposures a second, medians of interleaved rounds.</summary>
internal static class WholeRuns
{
    private const int ScriptLifetimes = 4096;
    private const int ScriptSteps = 250;

    /// <summary>One kind of run: a name, and what it makes a second.</summary>
    private sealed record Kind(string Name, int Threads, Func<double?> Measure);

    public static int Run(int rounds)
    {
        Write(Measure(rounds, lifetimes: 4096));
        return 0;
    }

    /// <summary>All kinds in turn, round after round, so that a disturbance of the machine meets all alike.</summary>
    public static Table Measure(int rounds, int lifetimes)
    {
        int script = Math.Min(ScriptLifetimes, lifetimes);
        string[] years = ["production.horizon=3 yr"];
        var dose = Cases.Read("bench.yaml", years);
        var irradiance = Cases.Read("bench.yaml", [.. years, "window.irradiance.lower=1.2 W/cm2"]);
        var cure = Cases.Read("bench.yaml", [.. years, "cure={ rate: { lot: { lognormal: { median: 0.9 /s, gsd: 1.08 } }, part: 3 % }, exponent: 0.6, lot_every: 400 h }", "window.degree_of_cure.lower=85 %"]);
        int second = Math.Min(2, Environment.ProcessorCount);
        Kind[] kinds =
        [
            new("NumPy script, plain", 1, () => Yardstick.ExposuresPerSecond("plain", script, ScriptSteps)),
            new("NumPy script, in place and cache-blocked", 1, () => Yardstick.ExposuresPerSecond("in-place", script, ScriptSteps)),
            new("engine, dose limited", 1, () => Engine(dose, lifetimes, 1)),
            new("engine, dose limited", second, () => Engine(dose, lifetimes, second)),
            new("engine, dose and irradiance limited", 1, () => Engine(irradiance, lifetimes, 1)),
            new("engine, dose and degree of cure limited", 1, () => Engine(cure, lifetimes / 4, 1)),
            new("engine, scenario quick", 1, () => Engine(Cases.Read("quick.yaml"), lifetimes, 1)),
        ];
        foreach (var scenario in (Scenario[])[dose, irradiance, cure])
        {
            Engine(scenario, 128, 1);
        }

        var seen = kinds.Select(_ => new List<double>()).ToArray();
        for (int round = 0; round < rounds; round++)
        {
            for (int k = 0; k < kinds.Length; k++)
            {
                if (kinds[k].Measure() is { } rate)
                {
                    seen[k].Add(rate);
                }
            }
        }

        double[] median = [.. seen.Select(s => s.Count > 0 ? ResultTable.Median(s) : double.NaN)];
        var table = new Table(
            "runs",
            new("what", ColumnKind.Text),
            new("threads", ColumnKind.Whole),
            new("rounds", ColumnKind.Whole),
            new("exposures_per_s", ColumnKind.Number),
            new("ns_per_exposure", ColumnKind.Number),
            new("ratio_to_plain_script", ColumnKind.Number),
            new("ratio_to_in_place_script", ColumnKind.Number),
            new("ratio_to_one_thread", ColumnKind.Number));
        for (int k = 0; k < kinds.Length; k++)
        {
            table.Add(kinds[k].Name, kinds[k].Threads, seen[k].Count, Number(median[k]), Number(1e9 / median[k]), Number(median[k] / median[0]),
                Number(median[k] / median[1]), k == 3 ? Number(median[3] / median[2]) : Cell.Missing);
        }

        return table;
    }

    /// <summary>One run on one thread, to be watched by a profiler: prints what it took of the processor, which other programs disturb less than time by the clock.</summary>
    public static int Watch(int lifetimes, string scenario, string[] sets)
    {
        var cell = Cases.Read(scenario, sets);
        Engine(cell, 128, 1);
        using var self = System.Diagnostics.Process.GetCurrentProcess();
        var before = self.UserProcessorTime;
        var result = new LocalRunner(Cases.Plan(cell, lifetimes), 1).Run();
        self.Refresh();
        double nanoseconds = (self.UserProcessorTime - before).TotalNanoseconds;
        Console.WriteLine(System.FormattableString.Invariant($"{nanoseconds / result.BondExposures:F1} ns an exposure of {result.BondExposures} exposures"));
        return 0;
    }

    private static Cell Number(double value) => double.IsFinite(value) ? ResultTable.Digits(value) : Cell.Missing;

    private static void Write(Table table) => ResultTable.Write(table);

    /// <summary>Exposures a second of a whole run, the state table included.</summary>
    private static double? Engine(Scenario scenario, int lifetimes, int threads)
    {
        var clock = System.Diagnostics.Stopwatch.StartNew();
        var result = new LocalRunner(Cases.Plan(scenario, lifetimes), threads).Run();
        return result.BondExposures / clock.Elapsed.TotalSeconds;
    }
}
