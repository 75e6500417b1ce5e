using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace CureSim.Core.Random;

/// <summary>
/// Addressed uniforms for many lifetimes at once, bit-equal to <see cref="Draw.Uniform"/>, whatever the length and the machine's vectors.
/// </summary>
/// <remarks>
/// The pair forms give the even index and the one after it from one Philox block, at half the work a uniform.
/// Lifetimes count on modulo 2³² past the largest. Loops are compiled at full optimisation from their first call.
/// </remarks>
public static class UniformBlock
{
    private const MethodImplOptions Loop = MethodImplOptions.NoInlining | MethodImplOptions.AggressiveOptimization;

    /// <summary>u[i] for lifetime <paramref name="firstLifetime"/> + i, all at one index.</summary>
    [MethodImpl(Loop)]
    public static void Fill(ulong seed, int world, uint firstLifetime, StreamKey stream, long index, Span<double> u)
    {
        ref double target = ref MemoryMarshal.GetReference(u);
        int i = 0;
        for (; i <= u.Length - Vector512<double>.Count; i += Vector512<double>.Count)
        {
            Uniforms(seed, world, Consecutive(firstLifetime, i), stream, index).StoreUnsafe(ref target, (nuint)i);
        }

        for (; i < u.Length; i++)
        {
            u[i] = Draw.Uniform(seed, world, unchecked(firstLifetime + (uint)i), stream, index);
        }
    }

    /// <summary>u[i] for lifetime <paramref name="lifetimes"/>[i], all at one index.</summary>
    [MethodImpl(Loop)]
    public static void Fill(ulong seed, int world, ReadOnlySpan<uint> lifetimes, StreamKey stream, long index, Span<double> u)
    {
        Require(lifetimes.Length, nameof(lifetimes), u);
        ref uint source = ref MemoryMarshal.GetReference(lifetimes);
        ref double target = ref MemoryMarshal.GetReference(u);
        int i = 0;
        for (; i <= u.Length - Vector512<double>.Count; i += Vector512<double>.Count)
        {
            Uniforms(seed, world, Widen(ref source, i), stream, index).StoreUnsafe(ref target, (nuint)i);
        }

        for (; i < u.Length; i++)
        {
            u[i] = Draw.Uniform(seed, world, lifetimes[i], stream, index);
        }
    }

    /// <summary>u[i] for lifetime <paramref name="firstLifetime"/> + i at an index of its own, <paramref name="indices"/>[i].</summary>
    [MethodImpl(Loop)]
    public static void Fill(ulong seed, int world, uint firstLifetime, StreamKey stream, ReadOnlySpan<long> indices, Span<double> u)
    {
        Require(indices.Length, nameof(indices), u);
        ref long index = ref MemoryMarshal.GetReference(indices);
        ref double target = ref MemoryMarshal.GetReference(u);
        int i = 0;
        for (; i <= u.Length - Vector512<double>.Count; i += Vector512<double>.Count)
        {
            Uniforms(seed, world, Consecutive(firstLifetime, i), stream, Vector512.LoadUnsafe(ref index, (nuint)i)).StoreUnsafe(ref target, (nuint)i);
        }

        for (; i < u.Length; i++)
        {
            u[i] = Draw.Uniform(seed, world, unchecked(firstLifetime + (uint)i), stream, indices[i]);
        }
    }

    /// <summary>u[i] for lifetime <paramref name="lifetimes"/>[i] at an index of its own, <paramref name="indices"/>[i].</summary>
    [MethodImpl(Loop)]
    public static void Fill(
        ulong seed, int world, ReadOnlySpan<uint> lifetimes, StreamKey stream, ReadOnlySpan<long> indices, Span<double> u)
    {
        Require(lifetimes.Length, nameof(lifetimes), u);
        Require(indices.Length, nameof(indices), u);
        ref uint source = ref MemoryMarshal.GetReference(lifetimes);
        ref long index = ref MemoryMarshal.GetReference(indices);
        ref double target = ref MemoryMarshal.GetReference(u);
        int i = 0;
        for (; i <= u.Length - Vector512<double>.Count; i += Vector512<double>.Count)
        {
            Uniforms(seed, world, Widen(ref source, i), stream, Vector512.LoadUnsafe(ref index, (nuint)i)).StoreUnsafe(ref target, (nuint)i);
        }

        for (; i < u.Length; i++)
        {
            u[i] = Draw.Uniform(seed, world, lifetimes[i], stream, indices[i]);
        }
    }

    /// <summary>u0[i], u1[i] for lifetime <paramref name="firstLifetime"/> + i at <paramref name="evenIndex"/> and the index after it.</summary>
    /// <exception cref="ArgumentException">The index is odd, or the spans differ in length or overlap.</exception>
    [MethodImpl(Loop)]
    public static void FillPair(
        ulong seed, int world, uint firstLifetime, StreamKey stream, long evenIndex, Span<double> u0, Span<double> u1)
    {
        RequirePair(evenIndex, u0, u1);
        ref double target0 = ref MemoryMarshal.GetReference(u0);
        ref double target1 = ref MemoryMarshal.GetReference(u1);
        int i = 0;
        for (; i <= u0.Length - Vector512<double>.Count; i += Vector512<double>.Count)
        {
            var (a, b) = Pair(seed, world, Consecutive(firstLifetime, i), stream, evenIndex);
            a.StoreUnsafe(ref target0, (nuint)i);
            b.StoreUnsafe(ref target1, (nuint)i);
        }

        for (; i < u0.Length; i++)
        {
            u0[i] = Draw.Uniform(seed, world, unchecked(firstLifetime + (uint)i), stream, evenIndex);
            u1[i] = Draw.Uniform(seed, world, unchecked(firstLifetime + (uint)i), stream, evenIndex + 1);
        }
    }

    /// <summary>u0[i], u1[i] for lifetime <paramref name="lifetimes"/>[i] at <paramref name="evenIndex"/> and the index after it.</summary>
    /// <inheritdoc cref="FillPair(ulong, int, uint, StreamKey, long, Span{double}, Span{double})" path="/exception"/>
    [MethodImpl(Loop)]
    public static void FillPair(
        ulong seed, int world, ReadOnlySpan<uint> lifetimes, StreamKey stream, long evenIndex, Span<double> u0, Span<double> u1)
    {
        Require(lifetimes.Length, nameof(lifetimes), u0);
        RequirePair(evenIndex, u0, u1);
        ref uint source = ref MemoryMarshal.GetReference(lifetimes);
        ref double target0 = ref MemoryMarshal.GetReference(u0);
        ref double target1 = ref MemoryMarshal.GetReference(u1);
        int i = 0;
        for (; i <= u0.Length - Vector512<double>.Count; i += Vector512<double>.Count)
        {
            var (a, b) = Pair(seed, world, Widen(ref source, i), stream, evenIndex);
            a.StoreUnsafe(ref target0, (nuint)i);
            b.StoreUnsafe(ref target1, (nuint)i);
        }

        for (; i < u0.Length; i++)
        {
            u0[i] = Draw.Uniform(seed, world, lifetimes[i], stream, evenIndex);
            u1[i] = Draw.Uniform(seed, world, lifetimes[i], stream, evenIndex + 1);
        }
    }

    /// <summary>Eight uniforms at one index: one half of a Philox block each.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector512<double> Uniforms(ulong seed, int world, Vector512<ulong> lifetimes, StreamKey stream, long index)
    {
        var (w0, w1, w2, w3) = Words(seed, world, lifetimes, stream, Vector512.Create((ulong)index >> 1));
        return (index & 1) == 0 ? PhiloxVector.FromWords(w0, w1) : PhiloxVector.FromWords(w2, w3);
    }

    /// <summary>Eight uniforms, each at its own index.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector512<double> Uniforms(ulong seed, int world, Vector512<ulong> lifetimes, StreamKey stream, Vector512<long> indices)
    {
        var (w0, w1, w2, w3) = Words(seed, world, lifetimes, stream, indices.AsUInt64() >> 1);
        var odd = Vector512.Equals(indices & Vector512<long>.One, Vector512<long>.One).AsUInt64();
        return PhiloxVector.FromWords(Vector512.ConditionalSelect(odd, w2, w0), Vector512.ConditionalSelect(odd, w3, w1));
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static (Vector512<double> Even, Vector512<double> Odd) Pair(
        ulong seed, int world, Vector512<ulong> lifetimes, StreamKey stream, long evenIndex)
    {
        var (w0, w1, w2, w3) = Words(seed, world, lifetimes, stream, Vector512.Create((ulong)evenIndex >> 1));
        return (PhiloxVector.FromWords(w0, w1), PhiloxVector.FromWords(w2, w3));
    }

    /// <summary>The address of a draw as counter words, as in <see cref="Draw.Uniform"/>.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static (Vector512<ulong> W0, Vector512<ulong> W1, Vector512<ulong> W2, Vector512<ulong> W3) Words(
        ulong seed, int world, Vector512<ulong> lifetimes, StreamKey stream, Vector512<ulong> half) =>
        PhiloxVector.Block(half, Vector512.Create((ulong)((uint)world << 16)) | (half >> 32), lifetimes, Vector512.Create((ulong)stream.Word), seed);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector512<ulong> Consecutive(uint first, int i) => Vector512.Create((ulong)first + (ulong)i) + Vector512<ulong>.Indices;

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector512<ulong> Widen(ref uint lifetimes, int i) =>
        Vector512.WidenLower(Vector256.LoadUnsafe(ref lifetimes, (nuint)i).ToVector512());

    private static void Require(int length, string name, ReadOnlySpan<double> u)
    {
        if (length != u.Length)
        {
            throw new ArgumentException($"{name}: {length} values for {u.Length} uniforms", name);
        }
    }

    private static void RequirePair(long evenIndex, ReadOnlySpan<double> u0, ReadOnlySpan<double> u1)
    {
        if ((evenIndex & 1) != 0)
        {
            throw new ArgumentException($"evenIndex {evenIndex} is odd", nameof(evenIndex));
        }

        Require(u0.Length, nameof(u0), u1);
        if (u0.Overlaps(u1))
        {
            throw new ArgumentException("the two spans need memory of their own", nameof(u1));
        }
    }
}
