using System.Diagnostics;

namespace CureSim.Cli.Tests;

/// <summary>The benchmarks still run. Nothing is said of how fast.</summary>
public class BenchmarkSmokeTests
{
    [Fact]
    public void EveryBenchmark_MakesItsTable()
    {
        // Beside this project's own output, built with it.
        string program = Path.Combine(AppContext.BaseDirectory.Replace("CureSim.Cli.Tests", "CureSim.Benchmarks", StringComparison.Ordinal), "CureSim.Benchmarks.dll");
        var start = new ProcessStartInfo("dotnet") { RedirectStandardOutput = true, RedirectStandardError = true };
        start.ArgumentList.Add(program);
        start.ArgumentList.Add("smoke");
        using var process = Process.Start(start)!;
        var result = Tool.Finish(process).Exits(0);
        Assert.Contains("exposures_per_s", result.Output, StringComparison.Ordinal);
        Assert.Contains("\"mean dose, J/cm2\",", result.Output, StringComparison.Ordinal);
        Assert.Contains("gain_in_time", result.Output, StringComparison.Ordinal);
        Assert.Contains("slope_from_first", result.Output, StringComparison.Ordinal);
    }
}
