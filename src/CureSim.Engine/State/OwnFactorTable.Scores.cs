using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using System.Runtime.Intrinsics.X86;
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
        var (zero, one, end) = (Vector512<double>.Zero, Vector512<double>.One, Vector512.Create(Points - 3.0));
        var within = Vector512.GreaterThanOrEqual(f, zero) & Vector512.LessThanOrEqual(f, one);
        var inner = within & Vector512.GreaterThanOrEqual(whole, one) & Vector512.LessThanOrEqual(whole, end);
        var index = Vector512.ConvertToInt64(whole);
        ReadOnlySpan<double[]> eight = rows.AsSpan(from, Lanes.Width);
        var offset = Vector512.Create(eight[0].Length <= Points ? 0L : (long)site * Points);
        var at = offset + index;
        if (Avx512F.IsSupported && Vector512.EqualsAll(inner.AsInt64(), Vector512<long>.AllBitsSet))
        {
            var (b, c, d, e) = FourPoints(eight, at - Vector512<long>.One);
            return Curve(b, c, d, e, f);
        }

        Vector512<double> y0 = Gather(eight, at), y1 = Gather(eight, at + Vector512<long>.One);
        var rise = y1 - y0;

        // At the ends of the row and beyond: straight lines, as in the scalar form.
        var up = Vector512.Max(zero, rise);
        var line = Vector512.ConditionalSelect(
            within, y0 + (f * rise), Vector512.ConditionalSelect(Vector512.LessThan(f, zero), y0 + (f * up), y1 + ((f - one) * up)));
        if (Vector512.EqualsAll(inner.AsInt64(), Vector512<long>.Zero))
        {
            return line;
        }

        var last = Vector512.Create(Points - 1L);
        var before = Gather(eight, offset + Vector512.Max(Vector512<long>.Zero, index - Vector512<long>.One));
        var after = Gather(eight, offset + Vector512.Min(last, index + Vector512.Create(2L)));
        return Vector512.ConditionalSelect(inner, Curve(before, y0, y1, after, f), line);
    }

    /// <summary>Cubic through two neighbouring points with the slopes of their neighbours.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector512<double> Curve(Vector512<double> before, Vector512<double> y0, Vector512<double> y1, Vector512<double> after, Vector512<double> f)
    {
        var rise = y1 - y0;
        var m0 = Vector512.Create(0.5) * (y1 - before);
        var m1 = Vector512.Create(0.5) * (after - y0);
        var g = Vector512<double>.One - f;
        return y0 + (f * rise) + (f * g * ((g * (m0 - rise)) - (f * (m1 - rise))));
    }

    /// <summary>Four neighbouring points of each of eight rows: loaded row by row and turned, a quarter of the loads of point by point.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static (Vector512<double> P0, Vector512<double> P1, Vector512<double> P2, Vector512<double> P3) FourPoints(ReadOnlySpan<double[]> rows, Vector512<long> from)
    {
        var r0 = Vector512.Create(Four(rows[0], from.GetElement(0)), Four(rows[4], from.GetElement(4)));
        var r1 = Vector512.Create(Four(rows[1], from.GetElement(1)), Four(rows[5], from.GetElement(5)));
        var r2 = Vector512.Create(Four(rows[2], from.GetElement(2)), Four(rows[6], from.GetElement(6)));
        var r3 = Vector512.Create(Four(rows[3], from.GetElement(3)), Four(rows[7], from.GetElement(7)));
        var (even01, odd01) = (Avx512F.UnpackLow(r0, r1), Avx512F.UnpackHigh(r0, r1));
        var (even23, odd23) = (Avx512F.UnpackLow(r2, r3), Avx512F.UnpackHigh(r2, r3));
        var (first, second) = (Vector512.Create(0L, 1, 8, 9, 4, 5, 12, 13), Vector512.Create(2L, 3, 10, 11, 6, 7, 14, 15));
        return (
            Avx512F.PermuteVar8x64x2(even01, first, even23), Avx512F.PermuteVar8x64x2(odd01, first, odd23),
            Avx512F.PermuteVar8x64x2(even01, second, even23), Avx512F.PermuteVar8x64x2(odd01, second, odd23));
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector256<double> Four(double[] row, long from) => Vector256.Create(row.AsSpan((int)from, 4));

    /// <summary>One point of each of eight rows.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector512<double> Gather(ReadOnlySpan<double[]> rows, Vector512<long> index) => Vector512.Create(
        rows[0][(int)index.GetElement(0)],
        rows[1][(int)index.GetElement(1)],
        rows[2][(int)index.GetElement(2)],
        rows[3][(int)index.GetElement(3)],
        rows[4][(int)index.GetElement(4)],
        rows[5][(int)index.GetElement(5)],
        rows[6][(int)index.GetElement(6)],
        rows[7][(int)index.GetElement(7)]);

    /// <summary>A site's row among the rows of a state.</summary>
    internal static ReadOnlySpan<double> RowOf(ReadOnlySpan<double> rows, int site) =>
        rows.Length <= Points ? rows : rows.Slice(site * Points, Points);
}
