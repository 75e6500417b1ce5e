using BenchmarkDotNet.Attributes;
using CureSim.Core.Numerics;
using CureSim.Core.Random;

namespace CureSim.Benchmarks;

/// <summary>Elementary functions and draws over a block of lifetimes; times are for one value.</summary>
public class KernelBenchmarks
{
    private const int Block = 128;
    private readonly double[] u = new double[Block];
    private readonly double[] v = new double[Block];
    private readonly double[] x = new double[Block];
    private readonly double[] y = new double[Block];
    private readonly StreamKey stream = StreamKey.Of(DrawDomain.Part, "benchmark", 0);
    private long step;

    /// <summary>Fills the inputs.</summary>
    public KernelBenchmarks() => UniformBlock.FillPair(1, 0, 0, stream, 0, u, v);

    /// <summary>e^x.</summary>
    [Benchmark(OperationsPerInvoke = Block)]
    public void Exp() => BlockMath.Exp(u, x);

    /// <summary>ln x.</summary>
    [Benchmark(OperationsPerInvoke = Block)]
    public void Log() => BlockMath.Log(u, x);

    /// <summary>Φ⁻¹(p).</summary>
    [Benchmark(OperationsPerInvoke = Block)]
    public void NormalQuantile() => BlockMath.NormalQuantile(u, x);

    /// <summary>Φ(x).</summary>
    [Benchmark(OperationsPerInvoke = Block)]
    public void NormalCdf() => BlockMath.NormalCdf(u, x);

    /// <summary>sin and cos of 2πu, for one angle.</summary>
    [Benchmark(OperationsPerInvoke = Block)]
    public void SinCos() => BlockMath.SinCos2Pi(u, x, y);

    /// <summary>Addressed uniforms.</summary>
    [Benchmark(OperationsPerInvoke = 2 * Block)]
    public void Uniforms() => UniformBlock.FillPair(1, 0, 0, stream, 2 * step++, x, y);

    /// <summary>Addressed normals, drawing included.</summary>
    [Benchmark(OperationsPerInvoke = 2 * Block)]
    public void Normals()
    {
        UniformBlock.FillPair(1, 0, 0, stream, 2 * step++, x, y);
        BlockMath.NormalPairs(x, y);
    }
}
