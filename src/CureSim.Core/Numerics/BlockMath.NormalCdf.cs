using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace CureSim.Core.Numerics;

public static partial class BlockMath
{
    private const double TailShift = 4.0;
    private const double TailEnd = 39.0; // Φ(−39) is below the smallest subnormal

    // (x + 4)·e^(x²/2)·Φ(−x) in t = (x − 4)/(x + 4), 0 ≤ x ≤ 39.
    private const double T0 = 0.7552851304157515;
    private const double T1 = -0.607896641971891;
    private const double T2 = 0.3871374007422045;
    private const double T3 = -0.1865218579597736;
    private const double T4 = 0.06039657489137532;
    private const double T5 = -0.00754018896310587;
    private const double T6 = -0.003479692374410255;
    private const double T7 = 0.0016308184055919227;
    private const double T8 = 0.00013334436347723014;
    private const double T9 = -0.00023109452349699203;
    private const double T10 = -1.9084176255120743e-06;
    private const double T11 = 3.514272874233549e-05;
    private const double T12 = 7.166154819147747e-07;
    private const double T13 = -5.914380081034766e-06;
    private const double T14 = -6.277422341697653e-07;
    private const double T15 = 1.0109156422074605e-06;
    private const double T16 = 2.654359145965975e-07;
    private const double T17 = -1.4350074067758307e-07;
    private const double T18 = -7.548408794530701e-08;
    private const double T19 = 7.275819365679484e-09;
    private const double T20 = 1.1778492581634052e-08;
    private const double T21 = 2.1976330925973466e-09;

    /// <summary>
    /// Φ(x): probability that a standard normal is at most x. Relative error in the lower tail below 2·10⁻¹⁵ as long as the result
    /// is a normal number (x &gt; −37.5); the upper half is 1 − Φ(−x). Use <see cref="NormalSurvival(double)"/> for the upper tail.
    /// </summary>
    /// <remarks>
    /// Φ(−x) = e^(−x²/2)·G(t)/(x + 4): one polynomial for all x, after M. M. Shepherd and J. G. Laframboise, Mathematics of Computation 36 (1981) 249–253.
    /// x² is carried with its rounding error, which the exponential would magnify.
    /// </remarks>
    public static double NormalCdf(double x)
    {
        double a = Math.Abs(x);
        a = a > TailEnd ? TailEnd : a;
        double square = a * a;
        double lost = Fma(a, a, -square);
        double tail = Exp(-0.5 * square) * TailRatio(a);
        tail = Fma(tail, -0.5 * lost, tail);
        return OneNaN(x > 0.0 ? 1.0 - tail : tail);
    }

    /// <inheritdoc cref="NormalCdf(double)"/>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector512<double> NormalCdf(Vector512<double> x)
    {
        var a = Vector512.Abs(x);
        var end = Vector512.Create(TailEnd);
        a = Vector512.ConditionalSelect(Vector512.GreaterThan(a, end), end, a);
        var square = a * a;
        var lost = Fma(a, a, -square);
        var tail = Exp(Vector512.Create(-0.5) * square) * TailRatio(a);
        tail = Fma(tail, Vector512.Create(-0.5) * lost, tail);
        var positive = Vector512.GreaterThan(x, Vector512<double>.Zero);
        return OneNaN(Vector512.ConditionalSelect(positive, Vector512.Create(1.0) - tail, tail));
    }

    /// <summary>p[i] = Φ(x[i]); see <see cref="NormalCdf(double)"/>. The spans may be the same memory.</summary>
    public static void NormalCdf(ReadOnlySpan<double> x, Span<double> p) => BlockLoop.Map(default(NormalCdfFunction), x, p);

    /// <summary>1 − Φ(x), accurate in the upper tail: Φ(−x).</summary>
    public static double NormalSurvival(double x) => NormalCdf(-x);

    /// <summary>φ(x), the density of the standard normal.</summary>
    public static double NormalDensity(double x) => 0.3989422804014327 * Exp(-0.5 * x * x);

    /// <summary>e^(x²/2)·Φ(−x) for x ≥ 0, which does not underflow; relative error below 10⁻¹³.</summary>
    /// <remarks>Beyond 39 by the asymptotic series, DLMF 7.12.1; its first term left out is below 10⁻¹³ there.</remarks>
    internal static double NormalTailRatio(double x)
    {
        if (x <= TailEnd)
        {
            return TailRatio(x);
        }

        double s = 1.0 / (x * x);
        return 0.3989422804014327 / x * (1.0 - (s * (1.0 - (s * (3.0 - (s * (15.0 - (105.0 * s))))))));
    }

    private static double TailRatio(double x)
    {
        double inverse = 1.0 / (x + TailShift);
        double t = (x - TailShift) * inverse;
        double s = t * t;
        double even = Fma(s, Fma(s, Fma(s, Fma(s, Fma(s, Fma(s, Fma(s, Fma(s, Fma(s, Fma(s, T20, T18), T16), T14), T12), T10), T8), T6), T4), T2), T0);
        double odd = Fma(s, Fma(s, Fma(s, Fma(s, Fma(s, Fma(s, Fma(s, Fma(s, Fma(s, Fma(s, T21, T19), T17), T15), T13), T11), T9), T7), T5), T3), T1);
        return Fma(t, odd, even) * inverse;
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector512<double> TailRatio(Vector512<double> x)
    {
        var inverse = Vector512.Create(1.0) / (x + Vector512.Create(TailShift));
        var t = (x - Vector512.Create(TailShift)) * inverse;
        var s = t * t;
        var even = Fma(s, Fma(s, Fma(s, Fma(s, Fma(s, Fma(s, Fma(s, Fma(s, Fma(s, Fma(s, T20, T18), T16), T14), T12), T10), T8), T6), T4), T2), T0);
        var odd = Fma(s, Fma(s, Fma(s, Fma(s, Fma(s, Fma(s, Fma(s, Fma(s, Fma(s, Fma(s, T21, T19), T17), T15), T13), T11), T9), T7), T5), T3), T1);
        return Fma(t, odd, even) * inverse;
    }

    private readonly struct NormalCdfFunction : IBlockFunction
    {
        public double Invoke(double x) => NormalCdf(x);

        [MethodImpl(MethodImplOptions.AggressiveInlining)]
        public Vector512<double> Invoke(Vector512<double> x) => NormalCdf(x);
    }
}
