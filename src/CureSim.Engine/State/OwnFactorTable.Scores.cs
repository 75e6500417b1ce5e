using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using CureSim.Core.Numerics;

namespace CureSim.Engine.State;

/// <content>Scores of eight states at once.</content>
public sealed partial class OwnFactorTable
{
    /// <summary><see cref="Score"/> of eight neighbouring entries, each from its own row.</summary>
    /// <param name="rows">Rows of the entries.</param>
    /// <param name="from">First of the eight entries.</param>
    /// <param name="site">Site, which says where in an entry's rows to look.</param>
    /// <param name="z">z of each.</param>
    [MethodImpl(Kernel.Options)]
    public Vector512<double> Scores(double[][] rows, int from, int site, Vector512<double> z)
    {
        var t = (z - Vector512.Create(First)) * Vector512.Create(perStep);
        var whole = Vector512.Floor(Vector512.Min(Vector512.Create(Points - 2.0), Vector512.Max(Vector512<double>.Zero, t)));
        var f = t - whole;
        Span<double> index = stackalloc double[Lanes.Width], before = stackalloc double[Lanes.Width], at = stackalloc double[Lanes.Width];
        Span<double> next = stackalloc double[Lanes.Width], after = stackalloc double[Lanes.Width];
        var inner = Vector512.GreaterThanOrEqual(f, Vector512<double>.Zero) & Vector512.LessThanOrEqual(f, Vector512<double>.One)
            & Vector512.GreaterThanOrEqual(whole, Vector512<double>.One) & Vector512.LessThanOrEqual(whole, Vector512.Create(Points - 3.0));
        if (!Vector512.EqualsAll(inner.AsInt64(), Vector512<long>.AllBitsSet))
        {
            z.CopyTo(index);
            for (int k = 0; k < Lanes.Width; k++)
            {
                at[k] = Score(RowOf(rows[from + k], site), index[k]);
            }

            return Vector512.Create((ReadOnlySpan<double>)at);
        }

        whole.CopyTo(index);
        for (int k = 0; k < Lanes.Width; k++)
        {
            var four = RowOf(rows[from + k], site).Slice((int)index[k] - 1, 4);
            (before[k], at[k], next[k], after[k]) = (four[0], four[1], four[2], four[3]);
        }

        var half = Vector512.Create(0.5);
        Vector512<double> y0 = Vector512.Create((ReadOnlySpan<double>)at), y1 = Vector512.Create((ReadOnlySpan<double>)next);
        var m0 = half * (y1 - Vector512.Create((ReadOnlySpan<double>)before));
        var m1 = half * (Vector512.Create((ReadOnlySpan<double>)after) - y0);
        var rise = y1 - y0;
        var g = Vector512<double>.One - f;
        return y0 + (f * rise) + (f * g * ((g * (m0 - rise)) - (f * (m1 - rise))));
    }

    /// <summary>A site's row among the rows of a state.</summary>
    internal static ReadOnlySpan<double> RowOf(ReadOnlySpan<double> rows, int site) =>
        rows.Length <= Points ? rows : rows.Slice(site * Points, Points);
}
