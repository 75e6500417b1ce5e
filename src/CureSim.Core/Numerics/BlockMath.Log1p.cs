using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace CureSim.Core.Numerics;

public static partial class BlockMath
{
    /// <summary>log(1 + x) within 2 ulp, also for small x; −∞ at −1, not-a-number below, +∞ at +∞.</summary>
    /// <remarks>y = 1 + x is rounded by c (found exactly); log(y + c) = log y + c/y to first order, and c is at most half a unit of y.</remarks>
    public static double Log1p(double x)
    {
        double y = 1.0 + x;
        double back = y - 1.0;
        double c = ((1.0 - (y - back)) + (x - back)) / y;
        return Log(y) + (double.IsNaN(c) ? 0.0 : c);
    }

    /// <inheritdoc cref="Log1p(double)"/>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector512<double> Log1p(Vector512<double> x)
    {
        var one = Vector512.Create(1.0);
        var y = one + x;
        var back = y - one;
        var c = ((one - (y - back)) + (x - back)) / y;
        return Log(y) + (c & Vector512.Equals(c, c));
    }

    /// <summary>y[i] = log(1 + x[i]); see <see cref="Log1p(double)"/>. The spans may be the same memory.</summary>
    public static void Log1p(ReadOnlySpan<double> x, Span<double> y) => BlockLoop.Map(default(Log1pFunction), x, y);

    private readonly struct Log1pFunction : IBlockFunction
    {
        public double Invoke(double x) => Log1p(x);

        [MethodImpl(MethodImplOptions.AggressiveInlining)]
        public Vector512<double> Invoke(Vector512<double> x) => Log1p(x);
    }
}
