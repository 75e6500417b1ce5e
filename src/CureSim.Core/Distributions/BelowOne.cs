using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using CureSim.Core.Numerics;

namespace CureSim.Core.Distributions;

/// <summary>Holds a computed probability at or below 1 − 2⁻⁵³, so that rounding never asks for the quantile of 1.</summary>
internal readonly struct BelowOne : IBlockFunction
{
    public const double Top = 1.0 - (1.0 / 9007199254740992.0);

    public static double Hold(double p) => p > Top ? Top : p;

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector512<double> Hold(Vector512<double> p)
    {
        var top = Vector512.Create(Top);
        return Vector512.ConditionalSelect(Vector512.GreaterThan(p, top), top, p);
    }

    public double Invoke(double x) => Hold(x);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public Vector512<double> Invoke(Vector512<double> x) => Hold(x);
}
