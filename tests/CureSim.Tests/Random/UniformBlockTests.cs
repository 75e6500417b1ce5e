using CureSim.Core.Random;

namespace CureSim.Tests.Random;

/// <summary>Blocks of uniforms have the bits of the addressed draw, at every length and in every form.</summary>
public class UniformBlockTests
{
    private const ulong Seed = 0xdeadbeef12345678;
    private const int World = 40000;
    private const uint First = uint.MaxValue - 100; // runs over the end of the lifetimes, where counting is modulo 2³²
    private static readonly StreamKey Stream = StreamKey.Of(DrawDomain.Part, "guide.transmission", 1);

    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    [InlineData((1L << 40) + 6)]
    [InlineData((1L << 47) + 13)]
    public void Consecutive_and_listed_lifetimes(long index)
    {
        for (int length = 0; length <= 256; length++)
        {
            uint[] lifetimes = [.. Enumerable.Range(0, length).Select(i => unchecked((uint)i * 2654435761u))];
            double[] consecutive = new double[length], listed = new double[length];
            UniformBlock.Fill(Seed, World, First, Stream, index, consecutive);
            UniformBlock.Fill(Seed, World, lifetimes, Stream, index, listed);
            for (int i = 0; i < length; i++)
            {
                Assert.Equal(Draw.Uniform(Seed, World, unchecked(First + (uint)i), Stream, index), consecutive[i]);
                Assert.Equal(Draw.Uniform(Seed, World, lifetimes[i], Stream, index), listed[i]);
            }
        }
    }

    [Fact]
    public void Pairs_of_indices()
    {
        const long Index = (77L << 33) + 4;
        for (int length = 0; length <= 256; length++)
        {
            uint[] lifetimes = [.. Enumerable.Range(0, length).Select(i => unchecked((uint)i * 2654435761u))];
            double[] a = new double[length], b = new double[length], c = new double[length], d = new double[length];
            UniformBlock.FillPair(Seed, World, First, Stream, Index, a, b);
            UniformBlock.FillPair(Seed, World, lifetimes, Stream, Index, c, d);
            for (int i = 0; i < length; i++)
            {
                Assert.Equal(Draw.Uniform(Seed, World, unchecked(First + (uint)i), Stream, Index), a[i]);
                Assert.Equal(Draw.Uniform(Seed, World, unchecked(First + (uint)i), Stream, Index + 1), b[i]);
                Assert.Equal(Draw.Uniform(Seed, World, lifetimes[i], Stream, Index), c[i]);
                Assert.Equal(Draw.Uniform(Seed, World, lifetimes[i], Stream, Index + 1), d[i]);
            }
        }
    }

    [Fact]
    public void Indices_that_differ_from_lifetime_to_lifetime()
    {
        for (int length = 0; length <= 256; length++)
        {
            uint[] lifetimes = [.. Enumerable.Range(0, length).Select(i => unchecked((uint)i * 2654435761u))];
            long[] indices = [.. Enumerable.Range(0, length).Select(i => (i * 0x1E3779B97F4A7C15L) & ((1L << 48) - 1))];
            double[] consecutive = new double[length], listed = new double[length];
            UniformBlock.Fill(Seed, World, First, Stream, indices, consecutive);
            UniformBlock.Fill(Seed, World, lifetimes, Stream, indices, listed);
            for (int i = 0; i < length; i++)
            {
                Assert.Equal(Draw.Uniform(Seed, World, unchecked(First + (uint)i), Stream, indices[i]), consecutive[i]);
                Assert.Equal(Draw.Uniform(Seed, World, lifetimes[i], Stream, indices[i]), listed[i]);
            }
        }
    }

    [Fact]
    public void Odd_pairs_and_unequal_spans_are_refused()
    {
        double[] u = new double[8], v = new double[9];
        Assert.Throws<ArgumentException>(() => UniformBlock.FillPair(1, 0, 0, Stream, 3, u, new double[8]));
        Assert.Throws<ArgumentException>(() => UniformBlock.FillPair(1, 0, 0, Stream, 2, u, v));
        Assert.Throws<ArgumentException>(() => UniformBlock.FillPair(1, 0, 0, Stream, 2, u, u));
        Assert.Throws<ArgumentException>(() => UniformBlock.Fill(1, 0, new uint[7], Stream, 2, u));
        Assert.Throws<ArgumentException>(() => UniformBlock.Fill(1, 0, 0, Stream, new long[7], u));
    }
}
