using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace CureSim.Core.Numerics;

public static partial class BlockMath
{
    /// <summary>x^y for x &gt; 0, as exp(y·log x).</summary>
    /// <remarks>
    /// The rounding of y·log x is magnified: the relative error is at most about (2 + 2·|y·log x|)·2⁻⁵³, so 10⁻¹⁵ where the result
    /// lies between 10⁻² and 10², 2·10⁻¹³ at the ends of the range. x = 0 gives 0 or ∞ by the sign of y; x &lt; 0 and 0⁰ not-a-number.
    /// </remarks>
    public static double Pow(double x, double y) => Exp(y * Log(x));

    /// <inheritdoc cref="Pow(double, double)"/>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector512<double> Pow(Vector512<double> x, Vector512<double> y) => Exp(y * Log(x));

    /// <summary>z[i] = x[i]^y; see <see cref="Pow(double, double)"/>. The spans may be the same memory.</summary>
    public static void Pow(ReadOnlySpan<double> x, double y, Span<double> z) => BlockLoop.Map(new PowFunction(y), x, z);

    private readonly struct PowFunction(double y) : IBlockFunction
    {
        public double Invoke(double x) => Pow(x, y);

        [MethodImpl(MethodImplOptions.AggressiveInlining)]
        public Vector512<double> Invoke(Vector512<double> x) => Pow(x, Vector512.Create(y));
    }
}
