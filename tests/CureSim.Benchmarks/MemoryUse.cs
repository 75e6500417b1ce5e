using System.Diagnostics;
using System.Globalization;
using CureSim.Engine.Runs;
using CureSim.Reports.Tables;

namespace CureSim.Benchmarks;

/// <summary>Peak memory of a process that makes one run, by size of the run.</summary>
internal static class MemoryUse
{
    private static readonly (string What, string[] Sets)[] Sizes =
    [
        ("1,000 lifetimes x 5 years x 4 parts", ["production.horizon=5 yr", "run.lifetimes=1000"]),
        ("10,000 lifetimes x 5 years x 4 parts", ["production.horizon=5 yr", "run.lifetimes=10000"]),
        ("10,000 lifetimes x half a year x 4 parts", ["production.horizon=0.5 yr", "run.lifetimes=10000"]),
    ];

    public static int Run()
    {
        ResultTable.Write(Measure(Sizes));
        return 0;
    }

    /// <summary>One run in this process; prints its peak memory in bytes.</summary>
    public static int Once(string scenario, string[] sets)
    {
        new LocalRunner(new(Cases.Read(scenario, sets))).Run();
        using var self = Process.GetCurrentProcess();
        Console.WriteLine(self.PeakWorkingSet64.ToString(CultureInfo.InvariantCulture));
        return 0;
    }

    public static Table Measure((string What, string[] Sets)[] runs)
    {
        var table = new Table("memory", new("run", ColumnKind.Text), new("peak_mb", ColumnKind.Number));
        foreach (var (what, sets) in runs)
        {
            var start = new ProcessStartInfo(Environment.ProcessPath!) { RedirectStandardOutput = true };
            if (Path.GetFileNameWithoutExtension(Environment.ProcessPath) == "dotnet")
            {
                start.ArgumentList.Add(typeof(MemoryUse).Assembly.Location);
            }

            foreach (string argument in (string[])["once", "bench.yaml", .. sets])
            {
                start.ArgumentList.Add(argument);
            }

            using var process = Process.Start(start)!;
            string output = process.StandardOutput.ReadToEnd();
            process.WaitForExit();
            table.Add(what, ResultTable.Digits(double.Parse(output, CultureInfo.InvariantCulture) / 1e6));
        }

        return table;
    }
}
