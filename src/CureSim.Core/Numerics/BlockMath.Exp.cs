using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace CureSim.Core.Numerics;

public static partial class BlockMath
{
    // Beyond these e^x is 0 or ∞ in double; the ends keep the exponent arithmetic in range.
    private const double ExpLow = -746.0;
    private const double ExpHigh = 710.0;
    private const double Log2E = 1.4426950408889634;

    // (e^r − 1 − r)/r² on |r| ≤ ½·ln 2.
    private const double E0 = 0.5000000000000001;
    private const double E1 = 0.16666666666666669;
    private const double E2 = 0.04166666666662413;
    private const double E3 = 0.008333333333330062;
    private const double E4 = 0.0013888888917213717;
    private const double E5 = 0.00019841269863053618;
    private const double E6 = 2.4801521295954376e-05;
    private const double E7 = 2.7557268459997064e-06;
    private const double E8 = 2.7620088445409746e-07;
    private const double E9 = 2.510038549551032e-08;

    /// <summary>e^x within 1 ulp; 0 and +∞ beyond the range of double, subnormal results rounded once more.</summary>
    /// <remarks>x = k·ln 2 + r; e^r = 1 + (r + r²·q(r)); the scale 2^k is applied in two halves, so that it never overflows by itself.</remarks>
    public static double Exp(double x)
    {
        double c = x < ExpLow ? ExpLow : x;
        c = c > ExpHigh ? ExpHigh : c;
        double shifted = Fma(c, Log2E, Shift);
        double k = shifted - Shift;
        double r = Fma(k, -Ln2Low, Fma(k, -Ln2High, c));
        double p = 1.0 + ExpTail(r);
        long n = BitConverter.DoubleToInt64Bits(shifted) - BitConverter.DoubleToInt64Bits(Shift);
        long first = n >> 1;
        double half = BitConverter.Int64BitsToDouble(BitConverter.DoubleToInt64Bits(p) + (first << 52));
        return OneNaN(half * BitConverter.Int64BitsToDouble((n - first + 1023) << 52));
    }

    /// <inheritdoc cref="Exp(double)"/>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector512<double> Exp(Vector512<double> x)
    {
        var low = Vector512.Create(ExpLow);
        var high = Vector512.Create(ExpHigh);
        var c = Vector512.ConditionalSelect(Vector512.LessThan(x, low), low, x);
        c = Vector512.ConditionalSelect(Vector512.GreaterThan(c, high), high, c);
        var shifted = Fma(c, Log2E, Shift);
        var k = shifted - Vector512.Create(Shift);
        var r = Fma(k, Vector512.Create(-Ln2Low), Fma(k, Vector512.Create(-Ln2High), c));
        var p = Vector512.Create(1.0) + ExpTail(r);
        var n = shifted.AsInt64() - Vector512.Create(Shift).AsInt64();
        var first = n >> 1;
        var half = (p.AsInt64() + (first << 52)).AsDouble();
        return OneNaN(half * ((n - first + Vector512.Create(1023L)) << 52).AsDouble());
    }

    /// <summary>y[i] = e^x[i]; see <see cref="Exp(double)"/>. The spans may be the same memory.</summary>
    public static void Exp(ReadOnlySpan<double> x, Span<double> y) => BlockLoop.Map(default(ExpFunction), x, y);

    /// <summary>e^r − 1 on |r| ≤ ½·ln 2. Odd and even powers run side by side: the chain is half as long.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static double ExpTail(double r)
    {
        double s = r * r;
        double even = Fma(s, Fma(s, Fma(s, Fma(s, E8, E6), E4), E2), E0);
        double odd = Fma(s, Fma(s, Fma(s, Fma(s, E9, E7), E5), E3), E1);
        return Fma(s, Fma(r, odd, even), r);
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector512<double> ExpTail(Vector512<double> r)
    {
        var s = r * r;
        var even = Fma(s, Fma(s, Fma(s, Fma(s, E8, E6), E4), E2), E0);
        var odd = Fma(s, Fma(s, Fma(s, Fma(s, E9, E7), E5), E3), E1);
        return Fma(s, Fma(r, odd, even), r);
    }

    private readonly struct ExpFunction : IBlockFunction
    {
        public double Invoke(double x) => Exp(x);

        [MethodImpl(MethodImplOptions.AggressiveInlining)]
        public Vector512<double> Invoke(Vector512<double> x) => Exp(x);
    }
}
