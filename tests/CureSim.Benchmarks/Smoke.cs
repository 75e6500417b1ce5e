namespace CureSim.Benchmarks;

/// <summary>A small piece of every benchmark: that they still run, not how fast.</summary>
public static class Smoke
{
    /// <summary>Runs the pieces and prints their tables; returns 0.</summary>
    public static int Run()
    {
        foreach (var table in (Reports.Tables.Table[])[WholeRuns.Measure(rounds: 1, lifetimes: 64), Answers.Measure(seeds: 2, lifetimes: 128), TailGain.Measure(lifetimes: 64), Growth.Measure(lifetimes: 16, rounds: 1), SamplingGain.Measure(seeds: 1, mostLifetimes: 128), StudyTimes.Measure(lifetimes: 8, nodes: 5, drivers: false)])
        {
            Console.WriteLine(Reports.Tables.CsvText.Of(table));
        }

        var kernels = new KernelBenchmarks();
        kernels.Exp();
        kernels.Log();
        kernels.NormalQuantile();
        kernels.NormalCdf();
        kernels.SinCos();
        kernels.Uniforms();
        kernels.Normals();
        return 0;
    }
}
