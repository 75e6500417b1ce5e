using System.Globalization;

namespace CureSim.Core.Random;

/// <summary>Direction numbers of Sobol' sequences, 32 bits, dimensions 1 to <see cref="Most"/>.</summary>
/// <remarks>
/// Primitive polynomials and initial numbers: S. Joe and F. Y. Kuo, SIAM Journal on Scientific Computing 30 (2008) 2635, table new-joe-kuo-6, shipped as
/// Data/joe-kuo-1024.txt (its licence: THIRD-PARTY.md beside it). Recurrence: m_k = 2a₁m_{k−1} ⊕ … ⊕ 2^{s−1}a_{s−1}m_{k−s+1} ⊕ 2^s m_{k−s} ⊕ m_{k−s}.
/// Checked against: rows RNG-SOB and, in 23 dimensions up to the last, tests/data/reference/sobol-points.csv (SciPy).
/// </remarks>
public static class SobolDirections
{
    /// <summary>Dimensions that the table holds.</summary>
    public const int Most = 1024;

    /// <summary>Bits of a coordinate.</summary>
    public const int Bits = 32;

    private static readonly Lazy<uint[][]> Table = new(Read);

    /// <summary>v₁ … v₃₂ of a dimension from 0; v_k is m_k moved to the top: coordinate = ⊕ of v_k over the bits of the Gray code.</summary>
    public static ReadOnlySpan<uint> Of(int dimension) => dimension is >= 0 and < Most
        ? Table.Value[dimension]
        : throw new ArgumentOutOfRangeException(nameof(dimension), dimension, $"dimensions 0 to {Most - 1}");

    private static uint[][] Read()
    {
        using var stream = typeof(SobolDirections).Assembly.GetManifestResourceStream("CureSim.Core.Random.Data.joe-kuo-1024.txt")
            ?? throw new InvalidOperationException("the table of direction numbers is not in the assembly");
        using var reader = new StreamReader(stream);
        var all = new uint[Most][];
        all[0] = [.. Enumerable.Range(1, Bits).Select(k => 1u << (Bits - k))];
        reader.ReadLine();
        while (reader.ReadLine() is { } line)
        {
            uint[] numbers = [.. line.Split(' ', StringSplitOptions.RemoveEmptyEntries).Select(t => uint.Parse(t, CultureInfo.InvariantCulture))];
            all[numbers[0] - 1] = Expand((int)numbers[1], numbers[2], numbers.AsSpan(3));
        }

        return all;
    }

    private static uint[] Expand(int s, uint a, ReadOnlySpan<uint> initial)
    {
        var v = new uint[Bits];
        for (int k = 0; k < Bits; k++)
        {
            if (k < s)
            {
                v[k] = initial[k] << (Bits - 1 - k);
                continue;
            }

            v[k] = v[k - s] ^ (v[k - s] >> s);
            for (int j = 1; j < s; j++)
            {
                v[k] ^= ((a >> (s - 1 - j)) & 1) * v[k - j];
            }
        }

        return v;
    }
}
