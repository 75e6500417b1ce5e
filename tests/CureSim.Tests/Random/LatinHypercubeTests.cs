using CureSim.Core.Random;

namespace CureSim.Tests.Random;

/// <summary>Latin hypercubes over a leaf: one point in each stratum, each point uniform, streams independent of each other.</summary>
public class LatinHypercubeTests
{
    private static readonly StreamKey One = StreamKey.Of(DrawDomain.Cell, "one"), Two = StreamKey.Of(DrawDomain.Cell, "two", 3);

    [Theory]
    [InlineData(1)]
    [InlineData(8)]
    [InlineData(16)]
    [InlineData(64)]
    public void Leaf_HasOnePoint_InEveryStratum(int size)
    {
        foreach (var stream in (StreamKey[])[One, Two])
        {
            for (uint leaf = 0; leaf < 5; leaf++)
            {
                int[] strata = [.. Enumerable.Range(0, size).Select(i => (int)(size * LatinHypercube.Uniform(7, 2, (leaf * (uint)size) + (uint)i, stream, leaf, size)))];
                Assert.Equal(Enumerable.Range(0, size), strata.Order());
            }
        }
    }

    [Theory]
    [InlineData(0)]
    [InlineData(17)]
    [InlineData(63)]
    public void Point_AtAnyPlaceOfItsLeaf_IsUniform(uint place)
    {
        double[] u = [.. Enumerable.Range(0, 4000).Select(s => LatinHypercube.Uniform((ulong)s, 0, 64 + place, One, 0, 64))];
        Assert.True(LooksUniform(u));

        // The planted error: strata dealt out in the order of lifetimes leave a place in the same stratum for ever.
        Assert.False(LooksUniform([.. u.Select(x => (place + x) / 64.0)]));
    }

    [Fact]
    public void Streams_IndicesAndLeaves_AreNotCorrelated()
    {
        // The correlation of two independent permutations of n ranks has mean 0 and variance 1/(n − 1) in each leaf: three standard errors over 400 leaves.
        double bound = 3.0 / Math.Sqrt(63.0 * 400.0);
        double[] Points(StreamKey stream, long index, uint shift) =>
            [.. Enumerable.Range(0, 400 * 64).Select(i => LatinHypercube.Uniform(5, 0, (uint)i + shift, stream, index, 64))];
        double[] a = Points(One, 0, 0);
        Assert.InRange(Correlation(a, Points(Two, 0, 0)), -bound, bound);
        Assert.InRange(Correlation(a, Points(One, 1, 0)), -bound, bound);
        Assert.InRange(Correlation(a, Points(One, 0, 64)), -bound, bound);
        Assert.True(Correlation(a, a) > bound);
    }

    [Fact]
    public void Rank_IsThatOfTheLifetimesOwnUniform()
    {
        // So a stratified draw stays near the draw that the lifetime would have for itself: within a stratum and the scatter of ranks (sd 0.063 of 64 uniforms).
        double[] difference = [.. Enumerable.Range(0, 640).Select(i => LatinHypercube.Uniform(3, 1, (uint)i, One, 2, 64) - Draw.Uniform(3, 1, (uint)i, One, 2))];
        Assert.InRange(Math.Sqrt(difference.Average(d => d * d)), 0.001, 0.1);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(65)]
    public void Leaf_OfAnImpossibleSize_IsRefused(int size) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => LatinHypercube.Uniform(1, 0, 0, One, 0, size));

    /// <summary>Kolmogorov's distance below 1.63/√n (1 % point of its limit law, Massey, JASA 46 (1951) 68, recalled from memory; seeds are fixed).</summary>
    private static bool LooksUniform(double[] u)
    {
        double[] sorted = [.. u.Order()];
        double most = sorted.Select((x, i) => Math.Max(x - ((double)i / sorted.Length), ((i + 1.0) / sorted.Length) - x)).Max();
        return sorted[0] > 0.0 && sorted[^1] < 1.0 && most < 1.63 / Math.Sqrt(sorted.Length);
    }

    private static double Correlation(double[] a, double[] b) => 12.0 * a.Zip(b, (x, y) => (x - 0.5) * (y - 0.5)).Average();
}
