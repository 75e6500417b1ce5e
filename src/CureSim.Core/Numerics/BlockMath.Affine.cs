using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace CureSim.Core.Numerics;

public static partial class BlockMath
{
    /// <summary>offset + factor·x, rounded once.</summary>
    public static double Affine(double x, double factor, double offset) => Fma(factor, x, offset);

    /// <summary>y[i] = offset + factor·x[i], rounded once. The spans may be the same memory.</summary>
    public static void Affine(ReadOnlySpan<double> x, double factor, double offset, Span<double> y) =>
        BlockLoop.Map(new AffineFunction(factor, offset), x, y);

    private readonly struct AffineFunction(double factor, double offset) : IBlockFunction
    {
        public double Invoke(double x) => Affine(x, factor, offset);

        [MethodImpl(MethodImplOptions.AggressiveInlining)]
        public Vector512<double> Invoke(Vector512<double> x) => Fma(Vector512.Create(factor), x, Vector512.Create(offset));
    }
}
