using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace CureSim.Core.Numerics;

/// <summary>Runs a <see cref="IBlockFunction"/> over spans: eight at a time, the remainder one at a time.</summary>
/// <remarks>
/// Not inlined: inside a caller the function's body would exceed the compiler's inlining budget and be called vector by vector, three to five
/// times slower. Optimised at once: the unoptimised first tier of vector code is about 20 times slower and would take a good part of a short run.
/// </remarks>
public static class BlockLoop
{
    /// <summary>y[i] = f(x[i]). Any length; the two spans may be the same memory.</summary>
    /// <exception cref="ArgumentException">The lengths differ, or the spans overlap without starting at the same place.</exception>
    [MethodImpl(MethodImplOptions.NoInlining | MethodImplOptions.AggressiveOptimization)]
    public static void Map<TFunction>(TFunction function, ReadOnlySpan<double> x, Span<double> y)
        where TFunction : struct, IBlockFunction
    {
        Require(x, y);
        ref double source = ref MemoryMarshal.GetReference(x);
        ref double target = ref MemoryMarshal.GetReference(y);
        int i = 0;
        for (; i <= x.Length - Vector512<double>.Count; i += Vector512<double>.Count)
        {
            function.Invoke(Vector512.LoadUnsafe(ref source, (nuint)i)).StoreUnsafe(ref target, (nuint)i);
        }

        for (; i < x.Length; i++)
        {
            y[i] = function.Invoke(x[i]);
        }
    }

    /// <summary>Throws unless the spans are equally long and either the same memory or apart.</summary>
    internal static void Require(ReadOnlySpan<double> x, ReadOnlySpan<double> y)
    {
        if (x.Length != y.Length)
        {
            throw new ArgumentException($"spans of {x.Length} and {y.Length} values must be equally long");
        }

        if (x.Overlaps(y, out int offset) && offset != 0)
        {
            throw new ArgumentException($"spans overlap, {offset} values apart: they must be the same memory or apart");
        }
    }
}
