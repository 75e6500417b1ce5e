using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace CureSim.Core.Numerics;

public static partial class BlockMath
{
    private const int LargestPass = 256;

    /// <summary>Two independent standard normals from two uniforms strictly inside (0, 1): radius √(−2 ln u₀), direction 2πu₁.</summary>
    /// <remarks>
    /// G. E. P. Box and M. E. Muller, "A note on the generation of random normal deviates", Annals of Mathematical Statistics 29 (1958) 610–611 (citation recalled from memory).
    /// Costs less than half of two quantiles (docs/performance.md); use the quantile where a value must rise with its uniform.
    /// </remarks>
    public static (double First, double Second) NormalPair(double u0, double u1)
    {
        double radius = Math.Sqrt(-2.0 * Log(u0));
        var (sin, cos) = SinCos2Pi(u1);
        return (radius * cos, radius * sin);
    }

    /// <summary>Turns uniforms into normals in place, pair by pair; any length, equal for both.</summary>
    /// <exception cref="ArgumentException">The lengths differ.</exception>
    [MethodImpl(Kernel.Options)]
    public static void NormalPairs(Span<double> first, Span<double> second)
    {
        if (first.Length != second.Length)
        {
            throw new ArgumentException($"spans of {first.Length} and {second.Length} values must be equally long");
        }

        // Pass by pass: in one loop the compiler would give up inlining and call functions vector by vector (measured: 2.5 ns a value against 1.4).
        Span<double> cosines = stackalloc double[Math.Min(first.Length, LargestPass)];
        for (int from = 0; from < first.Length; from += LargestPass)
        {
            int length = Math.Min(LargestPass, first.Length - from);
            var a = first.Slice(from, length);
            var b = second.Slice(from, length);
            Log(a, a);
            SinCos2Pi(b, b, cosines[..length]);
            Scale(a, b, cosines[..length]);
        }
    }

    [MethodImpl(Kernel.Options)]
    private static void Scale(Span<double> logs, Span<double> sines, ReadOnlySpan<double> cosines)
    {
        int whole = logs.Length / Lanes.Width * Lanes.Width;
        var a = Lanes.AsVectors(logs[..whole]);
        var b = Lanes.AsVectors(sines[..whole]);
        var c = Lanes.AsVectors(cosines[..whole]);
        for (int v = 0; v < a.Length; v++)
        {
            var radius = Vector512.Sqrt(Vector512.Create(-2.0) * a[v]);
            a[v] = radius * c[v];
            b[v] = radius * b[v];
        }

        for (int i = whole; i < logs.Length; i++)
        {
            double radius = Math.Sqrt(-2.0 * logs[i]);
            logs[i] = radius * cosines[i];
            sines[i] = radius * sines[i];
        }
    }
}
