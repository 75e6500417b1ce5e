namespace CureSim.Core.Random;

/// <summary>
/// Philox4x32-10: a counter-based generator. A draw is a function of (key, counter); there is no state to advance.
/// </summary>
/// <remarks>
/// Source: Salmon, Moraes, Dror, Shaw, "Parallel random numbers: as easy as 1, 2, 3", SC11 (2011), doi:10.1145/2063384.2063405.
/// Checked against: the known-answer vectors published with that paper (rows RNG-PHX of the catalogue of checks).
/// </remarks>
public static class Philox4x32
{
    internal const uint Multiplier0 = 0xD2511F53;
    internal const uint Multiplier1 = 0xCD9E8D57;
    internal const uint Weyl0 = 0x9E3779B9;
    internal const uint Weyl1 = 0xBB67AE85;
    internal const int Rounds = 10;

    /// <summary>Four words out for four counter words and two key words in.</summary>
    public static (uint W0, uint W1, uint W2, uint W3) Block(uint c0, uint c1, uint c2, uint c3, uint k0, uint k1)
    {
        for (int round = 0; round < Rounds; round++)
        {
            ulong p0 = (ulong)Multiplier0 * c0;
            ulong p1 = (ulong)Multiplier1 * c2;
            (c0, c1, c2, c3) = ((uint)(p1 >> 32) ^ c1 ^ k0, (uint)p1, (uint)(p0 >> 32) ^ c3 ^ k1, (uint)p0);
            k0 += Weyl0;
            k1 += Weyl1;
        }

        return (c0, c1, c2, c3);
    }
}
