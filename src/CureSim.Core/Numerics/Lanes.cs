using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace CureSim.Core.Numerics;

/// <summary>Eight neighbouring lifetimes at a time, out of a block array whose length is a multiple of eight.</summary>
public static class Lanes
{
    /// <summary>Lanes in one vector.</summary>
    public const int Width = 8;

    /// <summary>Loads lanes i … i + 7.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector512<double> Load(ReadOnlySpan<double> lanes, int i) =>
        Vector512.Create(lanes.Slice(i, Width));

    /// <summary>The block array seen as vectors of eight.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Span<Vector512<double>> AsVectors(Span<double> lanes) => MemoryMarshal.Cast<double, Vector512<double>>(lanes);

    /// <summary>The block array seen as vectors of eight.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static ReadOnlySpan<Vector512<double>> AsVectors(ReadOnlySpan<double> lanes) => MemoryMarshal.Cast<double, Vector512<double>>(lanes);

    /// <summary>The block array seen as vectors of eight.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Span<Vector512<double>> AsVectors(double[] lanes) => MemoryMarshal.Cast<double, Vector512<double>>(lanes.AsSpan());

    /// <summary>Smallest multiple of eight that holds <paramref name="count"/> lanes.</summary>
    public static int Padded(int count) => (count + Width - 1) / Width * Width;
}
