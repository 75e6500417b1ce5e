using CureSim.Studies.Runs;

namespace CureSim.Cli;

/// <summary>What commands that simulate have in common.</summary>
internal static class Simulation
{
    private const ulong MostThreads = 1024;

    /// <summary>Threads asked for, or one for each processor.</summary>
    public static int Threads(Call call) => (int)(call.Whole(Options.Threads, 1, MostThreads) ?? (ulong)Environment.ProcessorCount);

    /// <summary>Simulated bond exposures a second; null when the clock saw no time pass.</summary>
    public static double? Rate(RunAnalysis run) =>
        run.Result.Elapsed.TotalSeconds > 0.0 ? run.Result.BondExposures / run.Result.Elapsed.TotalSeconds : null;
}
