using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace CureSim.Core.Numerics;

/// <summary>
/// Elementary functions whose bits are the same on every machine with IEEE arithmetic, alone or eight at a time.
/// </summary>
/// <remarks>
/// The library's own vector functions change the last bit with the instruction set and as code is recompiled, which would break
/// 'same seed, same bytes'. Here every step is an IEEE operation that is correctly rounded (+, −, ×, ÷, √, fused multiply-add) or exact.
/// Each function has a scalar form, a <c>Vector512</c> form and a span form; the three agree to the bit, and a not-a-number result
/// is always <see cref="double.NaN"/>. The polynomials were fitted by tests/data/reference/fit_kernels.py.
/// </remarks>
public static partial class BlockMath
{
    /// <summary>1.5·2⁵²: adding it rounds to a whole number, which then stands in the low bits.</summary>
    private const double Shift = 6755399441055744.0;

    /// <summary>ln 2 in two parts; the high one ends in 20 zero bits, so that a whole number times it is exact.</summary>
    private const double Ln2High = 6.93147180369123816490e-01;
    private const double Ln2Low = 1.90821492927058770002e-10;

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static double Fma(double a, double b, double c) => Math.FusedMultiplyAdd(a, b, c);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector512<double> Fma(Vector512<double> a, Vector512<double> b, Vector512<double> c) =>
        Vector512.FusedMultiplyAdd(a, b, c);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector512<double> Fma(Vector512<double> a, Vector512<double> b, double c) =>
        Vector512.FusedMultiplyAdd(a, b, Vector512.Create(c));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector512<double> Fma(Vector512<double> a, double b, double c) =>
        Vector512.FusedMultiplyAdd(a, Vector512.Create(b), Vector512.Create(c));

    /// <summary>One bit pattern for every not-a-number.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static double OneNaN(double y) => double.IsNaN(y) ? double.NaN : y;

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector512<double> OneNaN(Vector512<double> y) =>
        Vector512.ConditionalSelect(Vector512.Equals(y, y), y, Vector512.Create(double.NaN));
}
