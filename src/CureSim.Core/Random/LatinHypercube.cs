using System.Numerics;
using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace CureSim.Core.Random;

/// <summary>
/// Uniforms that fill their strata evenly: among the lifetimes of one leaf, the draws at one address fall one into each of as many equal parts of (0, 1).
/// </summary>
/// <remarks>
/// u′ = (rank of the lifetime's own uniform among those of its leaf + v) / size of the leaf, with v a uniform of its own from the reserved domain. Ranks of independent
/// uniforms are a permutation of which each is as likely as any other, so this is a Latin hypercube, and each u′ alone is uniform: every mean over lifetimes
/// stays unbiased. It rests on the lifetime's number and the stream only, so that two scenarios that share a quantity share its points, whatever else they hold.
/// Leaves, streams and indices are independent of each other. The variance of a mean is at most n/(n − 1) times that of independent draws, n the size of the leaf, and
/// without what is a sum of functions of single draws.
/// Source: M. D. McKay, R. J. Beckman and W. J. Conover, Technometrics 21 (1979) 239; M. Stein, Technometrics 29 (1987) 143; the bound: A. B. Owen, SIAM Journal on
/// Numerical Analysis 34 (1997) 1884 (all recalled from memory).
/// </remarks>
public static class LatinHypercube
{
    /// <summary>Largest number of lifetimes that share out their strata.</summary>
    public const int LargestLeaf = 64;

    private const int RecentBits = 10;
    private const int RecentLeaves = 1 << RecentBits;

    // The lifetimes of a leaf ask for the same address one after the other: points of the leaves last asked for are kept, by thread.
    [ThreadStatic]
    private static Leaf?[]? recent;

    /// <summary>The uniform of a lifetime at an address; strictly inside (0, 1).</summary>
    /// <param name="seed">Key of every draw.</param>
    /// <param name="world">World.</param>
    /// <param name="lifetime">Lifetime within its world.</param>
    /// <param name="stream">Stream, of any domain but the reserved one.</param>
    /// <param name="index">Index, ≥ 0.</param>
    /// <param name="leafSize">Lifetimes in a leaf, 1 to 64; leaves begin at its multiples.</param>
    public static double Uniform(ulong seed, int world, uint lifetime, StreamKey stream, long index, int leafSize)
    {
        if (leafSize is < 1 or > LargestLeaf)
        {
            throw new ArgumentOutOfRangeException(nameof(leafSize), leafSize, $"1 to {LargestLeaf} lifetimes");
        }

        uint place = lifetime % (uint)leafSize, first = lifetime - place;
        recent ??= new Leaf?[RecentLeaves];
        ref var leaf = ref recent[((stream.Word * 0x9E3779B9u) ^ (first * 0x85EBCA6Bu) ^ ((uint)index * 0xC2B2AE35u)) >> (32 - RecentBits)];
        leaf ??= new();
        if (!leaf.Is(seed, world, first, stream, index, leafSize))
        {
            leaf.Fill(seed, world, first, stream, index, leafSize);
        }

        return leaf.Points[place];
    }

    private static StreamKey Reserved(StreamKey stream) => new(((uint)DrawDomain.Reserved << 30) | (stream.Word & 0x3FFFFFFF));

    /// <summary>Points of all lifetimes of one leaf at one address.</summary>
    private sealed class Leaf
    {
        public readonly double[] Points = new double[LargestLeaf];
        private ulong seed;
        private int world;
        private uint first;
        private StreamKey stream;
        private long index;
        private int size;

        public bool Is(ulong seed, int world, uint first, StreamKey stream, long index, int size) =>
            this.index == index && this.stream == stream && this.first == first && this.world == world && this.seed == seed && this.size == size;

        [MethodImpl(MethodImplOptions.NoInlining | MethodImplOptions.AggressiveOptimization)]
        public void Fill(ulong seed, int world, uint first, StreamKey stream, long index, int size)
        {
            (this.seed, this.world, this.first, this.stream, this.index, this.size) = (seed, world, first, stream, index, size);
            Span<double> own = stackalloc double[LargestLeaf];
            UniformBlock.Fill(seed, world, first, stream, index, own[..size]);
            UniformBlock.Fill(seed, world, first, Reserved(stream), index, Points.AsSpan(0, size));

            // Places without a lifetime rank after all others.
            own[size..].Fill(2.0);
            for (int i = 0; i < size; i++)
            {
                // Equal uniforms keep the order of their lifetimes, so that ranks stay a permutation.
                var (less, equal) = Compare(own, own[i]);
                int rank = BitOperations.PopCount(less | (equal & ((1UL << i) - 1)));

                // The sum can round up to the next whole number in the last stratum only, where it would give 1: held one step below, as every uniform is.
                Points[i] = Math.Min((rank + Points[i]) / size, 1.0 - (1.0 / 9007199254740992.0));
            }
        }

        /// <summary>Which of 64 numbers are less than x, and which equal it, a bit each.</summary>
        [MethodImpl(MethodImplOptions.AggressiveInlining)]
        private static (ulong Less, ulong Equal) Compare(ReadOnlySpan<double> numbers, double x)
        {
            ulong less = 0, equal = 0;
            var all = Vector512.Create(x);
            for (int j = 0; j < LargestLeaf; j += Vector512<double>.Count)
            {
                var eight = Vector512.Create(numbers[j..]);
                less |= Vector512.LessThan(eight, all).ExtractMostSignificantBits() << j;
                equal |= Vector512.Equals(eight, all).ExtractMostSignificantBits() << j;
            }

            return (less, equal);
        }
    }
}
