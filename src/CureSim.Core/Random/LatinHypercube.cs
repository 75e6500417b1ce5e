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

        int place = (int)(lifetime % (uint)leafSize);
        Span<double> all = stackalloc double[LargestLeaf];
        all = all[..leafSize];
        UniformBlock.Fill(seed, world, lifetime - (uint)place, stream, index, all);
        double own = all[place];
        int rank = 0;
        for (int i = 0; i < leafSize; i++)
        {
            // Equal uniforms keep the order of their lifetimes, so that ranks stay a permutation.
            rank += all[i] < own || (all[i] == own && i < place) ? 1 : 0;
        }

        // The sum can round up to the next whole number in the last stratum only, where it would give 1: held one step below, as every uniform is.
        double inside = Draw.Uniform(seed, world, lifetime, Reserved(stream), index);
        return Math.Min((rank + inside) / leafSize, 1.0 - (1.0 / 9007199254740992.0));
    }

    private static StreamKey Reserved(StreamKey stream) => new(((uint)DrawDomain.Reserved << 30) | (stream.Word & 0x3FFFFFFF));
}
