using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace CureSim.Core.Numerics;

public static partial class BlockMath
{
    private const double SmallestNormal = 2.2250738585072014e-308;
    private const double TwoTo54 = 18014398509481984.0;
    private const long HalfRootBits = 0x3FE6A09E667F3BCD; // √½
    private const long InfinityBits = 0x7FF0000000000000;

    // (log((1+s)/(1−s)) − 2s)/s³ in s², |s| ≤ (√2−1)/(√2+1).
    private const double L0 = 0.666666666666667;
    private const double L1 = 0.39999999999899444;
    private const double L2 = 0.2857142862600327;
    private const double L3 = 0.22222211130259875;
    private const double L4 = 0.18182889455675105;
    private const double L5 = 0.1533171061820642;
    private const double L6 = 0.14616585424934123;

    /// <summary>Natural logarithm within 1 ulp; −∞ at ±0, not-a-number below 0, +∞ at +∞; subnormals are exact inputs like others.</summary>
    /// <remarks>
    /// x = 2^e·(1+f), √½ ≤ 1+f &lt; √2. With s = f/(2+f): log(1+f) = f − s·(f − s²·P(s²)), which near 1 keeps f itself exact.
    /// </remarks>
    public static double Log(double x)
    {
        if (!(x > 0.0 && x < double.PositiveInfinity))
        {
            return x == 0.0 ? double.NegativeInfinity : x > 0.0 ? x : double.NaN;
        }

        bool tiny = x < SmallestNormal;
        long bits = BitConverter.DoubleToInt64Bits(tiny ? x * TwoTo54 : x);
        long exponent = (bits - HalfRootBits) >> 52;
        double f = BitConverter.Int64BitsToDouble(bits - (exponent << 52)) - 1.0;
        double e = (double)exponent - (tiny ? 54.0 : 0.0);
        double s = f / (2.0 + f);
        double t = s * s;
        double u = t * t;
        double even = Fma(u, Fma(u, Fma(u, L6, L4), L2), L0);
        double odd = Fma(u, Fma(u, L5, L3), L1);
        double h = s * Fma(-t, Fma(t, odd, even), f);
        return Fma(e, Ln2High, f + Fma(e, Ln2Low, -h));
    }

    /// <inheritdoc cref="Log(double)"/>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector512<double> Log(Vector512<double> x)
    {
        var tiny = Vector512.LessThan(x, Vector512.Create(SmallestNormal));
        var scaled = Vector512.ConditionalSelect(tiny, x * Vector512.Create(TwoTo54), x);
        var y = LogOfNormal(scaled.AsInt64(), tiny & Vector512.Create(54.0));

        // As unsigned numbers the bits of 0 < x < ∞ are one range. Others are rare: one test for all eight.
        var ordinary = Vector512.LessThan(x.AsUInt64() - Vector512<ulong>.One, Vector512.Create((ulong)InfinityBits - 1));
        return ordinary == Vector512<ulong>.AllBitsSet ? y : Vector512.ConditionalSelect(ordinary.AsDouble(), y, LogOfSpecial(x));
    }

    /// <summary>y[i] = log x[i]; see <see cref="Log(double)"/>. The spans may be the same memory.</summary>
    public static void Log(ReadOnlySpan<double> x, Span<double> y) => BlockLoop.Map(default(LogFunction), x, y);

    /// <summary>The logarithm of positive normal numbers, given their bits, times 2^−<paramref name="halvings"/>.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector512<double> LogOfNormal(Vector512<long> bits, Vector512<double> halvings = default)
    {
        var exponent = (bits - Vector512.Create(HalfRootBits)) >> 52;
        var f = (bits - (exponent << 52)).AsDouble() - Vector512.Create(1.0);
        var e = Vector512.ConvertToDouble(exponent) - halvings;
        var s = f / (Vector512.Create(2.0) + f);
        var t = s * s;
        var u = t * t;
        var even = Fma(u, Fma(u, Fma(u, L6, L4), L2), L0);
        var odd = Fma(u, Fma(u, L5, L3), L1);
        var h = s * Fma(-t, Fma(t, odd, even), f);
        return Fma(e, Vector512.Create(Ln2High), f + Fma(e, Vector512.Create(Ln2Low), -h));
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector512<double> LogOfSpecial(Vector512<double> x)
    {
        var zero = Vector512.ConditionalSelect(
            Vector512.Equals(x, Vector512<double>.Zero), Vector512.Create(double.NegativeInfinity), Vector512.Create(double.NaN));
        var infinity = Vector512.Create(double.PositiveInfinity);
        return Vector512.ConditionalSelect(Vector512.Equals(x, infinity), infinity, zero);
    }

    private readonly struct LogFunction : IBlockFunction
    {
        public double Invoke(double x) => Log(x);

        [MethodImpl(MethodImplOptions.AggressiveInlining)]
        public Vector512<double> Invoke(Vector512<double> x) => Log(x);
    }
}
