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
        whole.CopyTo(index);
        for (int k = 0; k < Lanes.Width; k++)
        {
            var row = RowOf(rows[from + k], site);
            int i = (int)index[k];
            (before[k], at[k], next[k], after[k]) = (row[Math.Max(0, i - 1)], row[i], row[i + 1], row[Math.Min(Points - 1, i + 2)]);
        }

        var half = Vector512.Create(0.5);
        Vector512<double> y0 = Vector512.Create((ReadOnlySpan<double>)at), y1 = Vector512.Create((ReadOnlySpan<double>)next);
        var m0 = half * (y1 - Vector512.Create((ReadOnlySpan<double>)before));
        var m1 = half * (Vector512.Create((ReadOnlySpan<double>)after) - y0);
        var rise = y1 - y0;
        var g = Vector512<double>.One - f;
        var curve = y0 + (f * rise) + (f * g * ((g * (m0 - rise)) - (f * (m1 - rise))));
        var inner = Vector512.GreaterThanOrEqual(f, Vector512<double>.Zero) & Vector512.LessThanOrEqual(f, Vector512<double>.One)
            & Vector512.GreaterThanOrEqual(whole, Vector512<double>.One) & Vector512.LessThanOrEqual(whole, Vector512.Create(Points - 3.0));
        if (Vector512.EqualsAll(inner.AsInt64(), Vector512<long>.AllBitsSet))
        {
            return curve;
        }

        // At the ends of the row and beyond: straight lines, as in the scalar form.
        var up = Vector512.Max(Vector512<double>.Zero, rise);
        var within = Vector512.GreaterThanOrEqual(f, Vector512<double>.Zero) & Vector512.LessThanOrEqual(f, Vector512<double>.One);
        var line = Vector512.ConditionalSelect(
            within, y0 + (f * rise), Vector512.ConditionalSelect(Vector512.LessThan(f, Vector512<double>.Zero), y0 + (f * up), y1 + ((f - Vector512<double>.One) * up)));
        return Vector512.ConditionalSelect(inner, curve, line);
    }

    /// <summary>A site's row among the rows of a state.</summary>
    internal static ReadOnlySpan<double> RowOf(ReadOnlySpan<double> rows, int site) =>
        rows.Length <= Points ? rows : rows.Slice(site * Points, Points);
}
