using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace CureSim.Core.Numerics;

public static partial class BlockMath
{
    private const double TwoPiHigh = 6.283185307179586;
    private const double TwoPiLow = 2.4492935982947064e-16;

    // (sin 2πr − 2πr)/r³ and (cos 2πr − 1)/r² in r², |r| ≤ ⅛.
    private const double S0 = -41.34170224039976;
    private const double S1 = 81.60524927607504;
    private const double S2 = -76.70585975304292;
    private const double S3 = 42.05869393780287;
    private const double S4 = -15.094641279191324;
    private const double S5 = 3.8198307196725234;
    private const double S6 = -0.7124434970282245;
    private const double C0 = -19.739208802178716;
    private const double C1 = 64.93939402266824;
    private const double C2 = -85.45681720664378;
    private const double C3 = 60.24464135269435;
    private const double C4 = -26.426253274804587;
    private const double C5 = 7.9032068458615115;
    private const double C6 = -1.699032865004566;

    /// <summary>sin 2πu and cos 2πu within 2 ulp, for any finite u (a whole number of turns drops out exactly).</summary>
    /// <remarks>u = whole turns + quarter turns + r, |r| ≤ ⅛, all exact; ±∞ gives not-a-number.</remarks>
    public static (double Sin, double Cos) SinCos2Pi(double u)
    {
        double t = u - Math.Round(u);
        double shifted = Fma(t, 4.0, Shift);
        double r = Fma(shifted - Shift, -0.25, t);
        long quarter = BitConverter.DoubleToInt64Bits(shifted);
        double z = r * r;
        double sin = Fma(r, TwoPiHigh, r * Fma(z, SinTail(z), TwoPiLow));
        double cos = Fma(z, CosTail(z), 1.0);
        bool swap = (quarter & 1) != 0;
        return (
            OneNaN(Flip(swap ? cos : sin, (quarter & 2) << 62)),
            OneNaN(Flip(swap ? sin : cos, ((quarter + 1) & 2) << 62)));
    }

    /// <inheritdoc cref="SinCos2Pi(double)"/>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static (Vector512<double> Sin, Vector512<double> Cos) SinCos2Pi(Vector512<double> u)
    {
        var t = u - Vector512.Round(u);
        var shifted = Fma(t, 4.0, Shift);
        var r = Fma(shifted - Vector512.Create(Shift), Vector512.Create(-0.25), t);
        var quarter = shifted.AsInt64();
        var z = r * r;
        var sin = Fma(r, Vector512.Create(TwoPiHigh), r * Fma(z, SinTail(z), TwoPiLow));
        var cos = Fma(z, CosTail(z), 1.0);
        var swap = Vector512.Equals(quarter & Vector512<long>.One, Vector512<long>.One).AsDouble();
        var two = Vector512.Create(2L);
        return (
            OneNaN((Vector512.ConditionalSelect(swap, cos, sin).AsInt64() ^ ((quarter & two) << 62)).AsDouble()),
            OneNaN((Vector512.ConditionalSelect(swap, sin, cos).AsInt64() ^ (((quarter + Vector512<long>.One) & two) << 62)).AsDouble()));
    }

    /// <summary>sin[i], cos[i] of 2π·u[i]; see <see cref="SinCos2Pi(double)"/>. Either result may take the memory of u, not both.</summary>
    [MethodImpl(MethodImplOptions.NoInlining | MethodImplOptions.AggressiveOptimization)]
    public static void SinCos2Pi(ReadOnlySpan<double> u, Span<double> sin, Span<double> cos)
    {
        BlockLoop.Require(u, sin);
        BlockLoop.Require(u, cos);
        if (sin.Overlaps(cos))
        {
            throw new ArgumentException("sine and cosine need memory of their own");
        }

        ref double source = ref MemoryMarshal.GetReference(u);
        int i = 0;
        for (; i <= u.Length - Vector512<double>.Count; i += Vector512<double>.Count)
        {
            var (s, c) = SinCos2Pi(Vector512.LoadUnsafe(ref source, (nuint)i));
            s.StoreUnsafe(ref MemoryMarshal.GetReference(sin), (nuint)i);
            c.StoreUnsafe(ref MemoryMarshal.GetReference(cos), (nuint)i);
        }

        for (; i < u.Length; i++)
        {
            (sin[i], cos[i]) = SinCos2Pi(u[i]);
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static double Flip(double x, long sign) => BitConverter.Int64BitsToDouble(BitConverter.DoubleToInt64Bits(x) ^ sign);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static double SinTail(double z) => Fma(z, Fma(z, Fma(z, Fma(z, Fma(z, Fma(z, S6, S5), S4), S3), S2), S1), S0);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector512<double> SinTail(Vector512<double> z) =>
        Fma(z, Fma(z, Fma(z, Fma(z, Fma(z, Fma(z, Vector512.Create(S6), S5), S4), S3), S2), S1), S0);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static double CosTail(double z) => Fma(z, Fma(z, Fma(z, Fma(z, Fma(z, Fma(z, C6, C5), C4), C3), C2), C1), C0);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector512<double> CosTail(Vector512<double> z) =>
        Fma(z, Fma(z, Fma(z, Fma(z, Fma(z, Fma(z, Vector512.Create(C6), C5), C4), C3), C2), C1), C0);
}
