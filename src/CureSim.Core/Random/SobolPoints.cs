using System.Numerics;

namespace CureSim.Core.Random;

/// <summary>Points of a Sobol' sequence, plain or scrambled, in Gray-code order; any point in any dimension at once, without those before it.</summary>
/// <remarks>
/// Scramble: a random linear map of the digits (a lower triangular matrix of bits with ones on its diagonal, one for each dimension) and a random digital shift:
/// J. Matoušek, Journal of Complexity 14 (1998) 527. Every coordinate is then uniform on the multiples of 2⁻³², half a step added so that neither 0 nor 1
/// comes, and 2^m points still fall one into each elementary interval, so a mean over them is unbiased. The bits come from addressed draws of the
/// reserved domain, so that a scramble rests on seed, number and dimension only.
/// Points: I. M. Sobol', USSR Computational Mathematics and Mathematical Physics 7 (1967) 86; Gray code: I. A. Antonov and V. M. Saleev, ibid. 19 (1980) 252
/// (both recalled from memory).
/// </remarks>
public sealed class SobolPoints
{
    private static readonly StreamKey Matrix = StreamKey.Of(DrawDomain.Reserved, "random.sobol.matrix");
    private static readonly StreamKey Shift = StreamKey.Of(DrawDomain.Reserved, "random.sobol.shift");
    private readonly uint[] directions;
    private readonly uint[] shifts;
    private readonly double half;

    private SobolPoints(int dimensions, uint[] directions, uint[] shifts, double half)
    {
        Dimensions = dimensions;
        this.directions = directions;
        this.shifts = shifts;
        this.half = half;
    }

    /// <summary>Dimensions.</summary>
    public int Dimensions { get; }

    /// <summary>The sequence itself; point 0 is the origin.</summary>
    /// <param name="dimensions">1 to <see cref="SobolDirections.Most"/>.</param>
    public static SobolPoints Plain(int dimensions)
    {
        var directions = new uint[dimensions * SobolDirections.Bits];
        for (int d = 0; d < dimensions; d++)
        {
            SobolDirections.Of(d).CopyTo(directions.AsSpan(d * SobolDirections.Bits));
        }

        return new(dimensions, directions, new uint[dimensions], 0.0);
    }

    /// <summary>One of the independent randomisations of the sequence.</summary>
    /// <param name="dimensions">1 to <see cref="SobolDirections.Most"/>.</param>
    /// <param name="seed">Key of every draw.</param>
    /// <param name="randomisation">Number of the randomisation, ≥ 0.</param>
    public static SobolPoints Scrambled(int dimensions, ulong seed, int randomisation)
    {
        var plain = Plain(dimensions);
        var shifts = new uint[dimensions];
        Span<uint> rows = stackalloc uint[SobolDirections.Bits];
        for (int d = 0; d < dimensions; d++)
        {
            for (int r = 0; r < rows.Length; r++)
            {
                // Row r holds the bits of the digits above it, at random, and its own.
                uint own = 0x80000000u >> r;
                rows[r] = own | (Word(seed, randomisation, Matrix, (d * SobolDirections.Bits) + r) & ~(own | (own - 1)));
            }

            shifts[d] = Word(seed, randomisation, Shift, d);
            var v = plain.directions.AsSpan(d * SobolDirections.Bits, SobolDirections.Bits);
            for (int k = 0; k < v.Length; k++)
            {
                uint moved = 0;
                for (int r = 0; r < rows.Length; r++)
                {
                    moved |= (uint)(BitOperations.PopCount(rows[r] & v[k]) & 1) << (SobolDirections.Bits - 1 - r);
                }

                v[k] = moved;
            }
        }

        return new(dimensions, plain.directions, shifts, 0.5);
    }

    /// <summary>Coordinate of a point, in [0, 1) when plain, strictly inside (0, 1) when scrambled.</summary>
    /// <param name="point">Number of the point from 0.</param>
    /// <param name="dimension">Dimension from 0.</param>
    public double At(uint point, int dimension)
    {
        uint x = shifts[dimension];
        var v = directions.AsSpan(dimension * SobolDirections.Bits, SobolDirections.Bits);
        for (uint gray = point ^ (point >> 1); gray != 0; gray &= gray - 1)
        {
            x ^= v[BitOperations.TrailingZeroCount(gray)];
        }

        return (x + half) * (1.0 / 4294967296.0);
    }

    private static uint Word(ulong seed, int randomisation, StreamKey stream, long index) =>
        (uint)(Draw.Uniform(seed, 0, (uint)randomisation, stream, index) * 4294967296.0);
}
