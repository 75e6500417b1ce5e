using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using System.Runtime.Intrinsics.X86;

namespace CureSim.Core.Random;

/// <summary>Eight Philox4x32-10 blocks side by side, one a 64-bit lane; bit-equal to <see cref="Philox4x32.Block"/>.</summary>
/// <remarks>Only the low half of a lane counts: the multiply reads no more, so that the high half may hold what it likes until the end.</remarks>
internal static class PhiloxVector
{
    // From words to (53 bits + ½)·2⁻⁵³: the top 27 bits of the high word, then the top 26 of the low one.
    private const ulong HighBits = ((1UL << 27) - 1) << 26;
    private const ulong AllBits = (1UL << 53) - 1;

    /// <summary>The four words of each lane after ten rounds, in the low halves.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static (Vector512<ulong> W0, Vector512<ulong> W1, Vector512<ulong> W2, Vector512<ulong> W3) Block(
        Vector512<ulong> c0, Vector512<ulong> c1, Vector512<ulong> c2, Vector512<ulong> c3, ulong seed)
    {
        var k0 = Vector512.Create(seed);
        var k1 = Vector512.Create(seed >> 32);
        for (int round = 0; round < Philox4x32.Rounds; round++)
        {
            var p0 = MultiplyLow(c0, Philox4x32.Multiplier0);
            var p1 = MultiplyLow(c2, Philox4x32.Multiplier1);
            c0 = (p1 >> 32) ^ c1 ^ k0;
            c1 = p1;
            c2 = (p0 >> 32) ^ c3 ^ k1;
            c3 = p0;
            k0 += Vector512.Create((ulong)Philox4x32.Weyl0);
            k1 += Vector512.Create((ulong)Philox4x32.Weyl1);
        }

        return (c0, c1, c2, c3);
    }

    /// <summary>Uniforms from two words a lane; the same bits as <see cref="Draw.FromWords"/>.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector512<double> FromWords(Vector512<ulong> high, Vector512<ulong> low)
    {
        var bits = Vector512.ConditionalSelect(Vector512.Create(HighBits), high << 21, low >> 6) & Vector512.Create(AllBits);
        // One rounding of n·2⁻⁵³ + 2⁻⁵⁴ equals the scalar form's rounding of n + ½, as the scale is exact. No not-a-number or zero comes here.
        var u = Vector512.FusedMultiplyAdd(
            Vector512.ConvertToDouble(bits.AsInt64()), Vector512.Create(1.0 / 9007199254740992.0), Vector512.Create(0.5 / 9007199254740992.0));
        return Vector512.MinNative(u, Vector512.Create(1.0 - (1.0 / 9007199254740992.0)));
    }

    /// <summary>32 × 32 → 64 bits a lane.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector512<ulong> MultiplyLow(Vector512<ulong> a, uint multiplier)
    {
        var m = Vector512.Create((ulong)multiplier);
        if (Avx512F.IsSupported)
        {
            return Avx512F.Multiply(a.AsUInt32(), m.AsUInt32());
        }

        if (Avx2.IsSupported)
        {
            return Vector512.Create(
                Avx2.Multiply(a.GetLower().AsUInt32(), m.GetLower().AsUInt32()),
                Avx2.Multiply(a.GetUpper().AsUInt32(), m.GetUpper().AsUInt32()));
        }

        return (a & Vector512.Create((ulong)uint.MaxValue)) * m;
    }
}
