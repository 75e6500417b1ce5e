using System.Runtime.CompilerServices;

namespace CureSim.Core.Numerics;

/// <summary>How loops over blocks of lifetimes are compiled.</summary>
public static class Kernel
{
    /// <summary>
    /// Fully optimised at the first call and not inlined: a kernel that starts cold runs some twenty times slower until it is recompiled, and one that is
    /// inlined into its caller three to five times slower, because the compiler's budget for a method is spent (measured).
    /// </summary>
    public const MethodImplOptions Options = MethodImplOptions.NoInlining | MethodImplOptions.AggressiveOptimization;
}
