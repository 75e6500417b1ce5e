using System.Numerics;

namespace CureSim.Engine.Plan;

/// <summary>How lifetimes are cut into leaves, the pieces that are summed first and merged in a fixed order.</summary>
public static class Leaves
{
    /// <summary>Lifetimes in a leaf of a world with 4,096 lifetimes or more.</summary>
    public const int Full = 64;

    /// <summary>Batches for standard errors: leaf number modulo this.</summary>
    public const int Batches = 64;

    /// <summary>Lifetimes in a leaf: 64, or 2^⌊log2(N/64)⌋ and at least 1 in a world with fewer than 4,096.</summary>
    public static int Size(int lifetimesPerWorld) =>
        lifetimesPerWorld >= Full * Batches ? Full : lifetimesPerWorld < Batches ? 1 : 1 << BitOperations.Log2((uint)(lifetimesPerWorld / Batches));
}
