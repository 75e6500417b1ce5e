using BenchmarkDotNet.Running;
using CureSim.Benchmarks;

return args switch
{
    ["kernels", .. var rest] => Kernels(rest),
    ["runs", ..] => WholeRuns.Run(rounds: 5),
    ["answers", ..] => Answers.Run(),
    ["tail", ..] => TailGain.Run(),
    ["sampling", ..] => SamplingGain.Run(),
    ["growth", ..] => Growth.Run(),
    ["studies", ..] => StudyTimes.Run(),
    ["memory", ..] => MemoryUse.Run(),
    ["start", var tool] => StartTime.Run(tool),
    ["once", var scenario, .. var sets] => MemoryUse.Once(scenario, sets),
    ["watch", var lifetimes, var scenario, .. var sets] => WholeRuns.Watch(int.Parse(lifetimes, System.Globalization.CultureInfo.InvariantCulture), scenario, sets),
    ["smoke", ..] => Smoke.Run(),
    _ => Usage(),
};

static int Kernels(string[] rest)
{
    BenchmarkSwitcher.FromAssembly(typeof(KernelBenchmarks).Assembly).Run(rest.Length > 0 ? rest : ["--filter", "*"]);
    return 0;
}

static int Usage()
{
    Console.Error.WriteLine("""
        runs           whole runs beside the NumPy script            -> docs/benchmarks/runs.csv
        answers        time to an equal error beside the script      -> docs/benchmarks/answers.csv
        tail           conditional against counted fractions         -> docs/benchmarks/tail.csv
        sampling       stratified against independent lifetimes      -> docs/benchmarks/sampling.csv
        growth         cost against horizon, sites, lifetimes, parts -> docs/benchmarks/growth.csv
        studies        studies beside as many plain runs             -> docs/benchmarks/studies.csv
        memory         peak memory by size                           -> docs/benchmarks/memory.csv
        start DLL      start of the tool to its first progress       -> docs/benchmarks/start.csv
        kernels        elementary functions and draws (BenchmarkDotNet)
        watch LIFETIMES SCENARIO [KEY=VALUE ...]   one run on one thread, for a profiler; prints processor time an exposure
        smoke          a small piece of everything, nothing written

        Times are ratios of one machine in one run; close everything else first.
        """);
    return 2;
}
