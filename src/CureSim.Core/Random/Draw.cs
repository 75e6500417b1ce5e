namespace CureSim.Core.Random;

/// <summary>
/// Addressed uniform draws: a number is found by where it is used, not by when it is asked for.
/// </summary>
/// <remarks>
/// Key = seed. Counter words: [index/2 low 32 bits, world · 2¹⁶ + index/2 high 16 bits, lifetime within its world, stream].
/// One Philox block holds two uniforms; an even index takes words 0–1, an odd index words 2–3.
/// </remarks>
public static class Draw
{
    /// <summary>Largest number of worlds that an address can tell apart.</summary>
    public const int MaximumWorlds = 1 << 16;

    /// <summary>A uniform strictly inside (0, 1): (53 bits + ½)·2⁻⁵³, and never rounded up to 1.</summary>
    public static double Uniform(ulong seed, int world, uint lifetime, StreamKey stream, long index)
    {
        ulong half = (ulong)index >> 1;
        var (w0, w1, w2, w3) = Philox4x32.Block(
            (uint)half, ((uint)world << 16) | (uint)(half >> 32), lifetime, stream.Word, (uint)seed, (uint)(seed >> 32));
        return (index & 1) == 0 ? FromWords(w0, w1) : FromWords(w2, w3);
    }

    /// <summary>(53 bits + ½)·2⁻⁵³ from two words, high word first.</summary>
    public static double FromWords(uint high, uint low)
    {
        // 53 bits and the half need 54 bits: from 2⁵² on the sum is rounded to even, so the very top would become 1. It is held below.
        double u = (((double)(high >> 5) * 67108864.0) + (low >> 6) + 0.5) * (1.0 / 9007199254740992.0);
        return Math.Min(u, 1.0 - (1.0 / 9007199254740992.0));
    }

    /// <summary>Part-level index: step · 2¹⁶ + part, so that more parts a step move no other draw.</summary>
    public static long PartIndex(int step, int part) => ((long)step << 16) + part;

    /// <summary>Reading index: (step + 1) · 2¹⁶ + number in the step; commissioning is step −1.</summary>
    public static long ReadingIndex(int step, int number) => ((long)(step + 1) << 16) + number;
}
