using System.Globalization;
using System.Text.RegularExpressions;
using CureSim.Core.Random;
using CureSim.Tests.Numerics;

namespace CureSim.Tests.Random;

/// <summary>Philox4x32-10 and the draws made from it.</summary>
public partial class PhiloxTests
{
    /// <summary>Rows RNG-PHX-*: three vectors found published (Random123, SC11 2011) and recomputed; the others recomputed.</summary>
    [Fact]
    public void Known_answers_are_met()
    {
        int vectors = 0;
        foreach (string[] row in RepositoryData.Rows("published/rng.csv").Where(r => r[0].StartsWith("RNG-PHX", StringComparison.Ordinal)))
        {
            uint[] w = [.. Words().Matches(row[2]).Select(m => Hex(m.Value))];
            var (a, b, c, d) = Philox4x32.Block(w[0], w[1], w[2], w[3], w[4], w[5]);
            Assert.Equal(row[3].Split(' ').Select(Hex), [a, b, c, d]);
            vectors++;
        }

        Assert.Equal(7, vectors);
    }

    /// <summary>Row RNG-U53 (recomputed): the 53 bits of two words; ours adds half a unit, so that 0 cannot come.</summary>
    [Fact]
    public void Two_words_make_the_stated_uniform()
    {
        const double Published = 0.39904647231489565;
        Assert.Equal(Published, Draw.FromWords(0x6627e8d5, 0xe169c58d), 1.2e-16); // half a unit of 2⁻⁵³ and one rounding
        Assert.Equal(Math.Pow(2, -54), Draw.FromWords(0, 0));
        Assert.Equal(1.0 - Math.Pow(2, -53), Draw.FromWords(uint.MaxValue, uint.MaxValue));
    }

    [Fact]
    public void Address_is_laid_out_as_documented()
    {
        const ulong Seed = 0x0123456789abcdef;
        const int World = 0xbeef;
        const long Index = (0x4321L << 33) | 0x12345678;
        var (w0, w1, w2, w3) = Philox4x32.Block(0x12345678 >> 1, 0xbeef4321, 99, 7, 0x89abcdef, 0x01234567);
        Assert.Equal(Draw.FromWords(w0, w1), Draw.Uniform(Seed, World, 99, new StreamKey(7), Index));
        Assert.Equal(Draw.FromWords(w2, w3), Draw.Uniform(Seed, World, 99, new StreamKey(7), Index + 1));
    }

    private static uint Hex(string s) => uint.Parse(s, NumberStyles.HexNumber, CultureInfo.InvariantCulture);

    [GeneratedRegex(@"\b[0-9a-f]{8}\b")]
    private static partial Regex Words();
}
