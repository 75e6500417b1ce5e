using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace CureSim.Core.Numerics;

public static partial class BlockMath
{
    private const double CentralHalfWidth = 0.425;
    private const double CentralSquare = 0.180625; // 0.425²
    private const double NearTailStart = 1.6;
    private const double FarTailStart = 5.0;
    private const double FarTailBelow = 1.3887943864964021e-11; // e^−25, where √(−log p) = 5

    /// <summary>
    /// Φ⁻¹(p): the score below which a standard normal falls with probability p. Within 1·10⁻¹⁵ relative, from the smallest
    /// subnormal up; −∞ at 0, +∞ at 1, not-a-number outside. The upper half comes from 1 − p, which is exact there.
    /// </summary>
    /// <remarks>
    /// Three rational functions, routine PPND16 of M. J. Wichura, "Algorithm AS 241: the percentage points of the normal distribution",
    /// Applied Statistics 37 (1988) 477–484, doi:10.2307/2347330. Coefficients recalled from memory; checked to 2·10⁻¹⁶ against 60-digit arithmetic by
    /// tests/data/reference/make_references.py.
    /// </remarks>
    public static double NormalQuantile(double p)
    {
        double q = p - 0.5;
        if (Math.Abs(q) <= CentralHalfWidth)
        {
            double c = Fma(-q, q, CentralSquare);
            return CentralTop(c) / CentralBottom(c) * q;
        }

        double m = q < 0.0 ? p : 1.0 - p;
        if (!(m > 0.0))
        {
            return p == 0.0 ? double.NegativeInfinity : p == 1.0 ? double.PositiveInfinity : double.NaN;
        }

        double r = Math.Sqrt(-Log(m));
        double z;
        if (m >= FarTailBelow)
        {
            r -= NearTailStart;
            z = NearTop(r) / NearBottom(r);
        }
        else
        {
            r -= FarTailStart;
            z = FarTop(r) / FarBottom(r);
        }

        return q < 0.0 ? -z : z;
    }

    /// <inheritdoc cref="NormalQuantile(double)"/>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector512<double> NormalQuantile(Vector512<double> p)
    {
        var q = p - Vector512.Create(0.5);
        var negative = Vector512.LessThan(q, Vector512<double>.Zero);
        var m = Vector512.ConditionalSelect(negative, p, Vector512.Create(1.0) - p);
        if (!Vector512.GreaterThanOrEqualAll(m, Vector512.Create(FarTailBelow)))
        {
            return NormalQuantileFar(p); // once in about 5 billion vectors of uniforms, often for probabilities that a model computes
        }

        var c = Fma(-q, q, CentralSquare);
        var r = Vector512.Sqrt(-LogOfNormal(m.AsInt64())) - Vector512.Create(NearTailStart);
        var central = Vector512.LessThanOrEqual(Vector512.Abs(q), Vector512.Create(CentralHalfWidth));
        var top = Vector512.ConditionalSelect(central, CentralTop(c), NearTop(r));
        var bottom = Vector512.ConditionalSelect(central, CentralBottom(c), NearBottom(r));
        var sign = Vector512.ConditionalSelect(negative, Vector512.Create(-1.0), Vector512.Create(1.0));
        return top / bottom * Vector512.ConditionalSelect(central, q, sign);
    }

    /// <summary>z[i] = Φ⁻¹(p[i]); see <see cref="NormalQuantile(double)"/>. The spans may be the same memory.</summary>
    public static void NormalQuantile(ReadOnlySpan<double> p, Span<double> z) => BlockLoop.Map(default(NormalQuantileFunction), p, z);

    /// <summary>The same where some lane is in the far tail; all three functions are found and each lane takes its own.</summary>
    [MethodImpl(MethodImplOptions.NoInlining)]
    private static Vector512<double> NormalQuantileFar(Vector512<double> p)
    {
        var q = p - Vector512.Create(0.5);
        var negative = Vector512.LessThan(q, Vector512<double>.Zero);
        var m = Vector512.ConditionalSelect(negative, p, Vector512.Create(1.0) - p);
        if (!Vector512.GreaterThanOrEqualAll(m, Vector512.Create(SmallestNormal)))
        {
            return NormalQuantileOneByOne(p);
        }

        var c = Fma(-q, q, CentralSquare);
        var root = Vector512.Sqrt(-LogOfNormal(m.AsInt64()));
        var (near, far) = (root - Vector512.Create(NearTailStart), root - Vector512.Create(FarTailStart));
        var central = Vector512.LessThanOrEqual(Vector512.Abs(q), Vector512.Create(CentralHalfWidth));
        var isNear = Vector512.GreaterThanOrEqual(m, Vector512.Create(FarTailBelow));
        var top = Vector512.ConditionalSelect(central, CentralTop(c), Vector512.ConditionalSelect(isNear, NearTop(near), FarTop(far)));
        var bottom = Vector512.ConditionalSelect(central, CentralBottom(c), Vector512.ConditionalSelect(isNear, NearBottom(near), FarBottom(far)));
        var sign = Vector512.ConditionalSelect(negative, Vector512.Create(-1.0), Vector512.Create(1.0));
        return top / bottom * Vector512.ConditionalSelect(central, q, sign);
    }

    [MethodImpl(MethodImplOptions.NoInlining)]
    private static Vector512<double> NormalQuantileOneByOne(Vector512<double> p)
    {
        for (int i = 0; i < Vector512<double>.Count; i++)
        {
            p = p.WithElement(i, NormalQuantile(p.GetElement(i)));
        }

        return p;
    }

    private readonly struct NormalQuantileFunction : IBlockFunction
    {
        public double Invoke(double x) => NormalQuantile(x);

        [MethodImpl(MethodImplOptions.AggressiveInlining)]
        public Vector512<double> Invoke(Vector512<double> x) => NormalQuantile(x);
    }
}
