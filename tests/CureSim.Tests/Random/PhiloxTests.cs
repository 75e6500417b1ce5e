using CureSim.Core.Random;

namespace CureSim.Tests.Random;

/// <summary>Draws made from Philox4x32-10, whose known answers the catalogue of checks compares (rows RNG-PHX-* and RNG-U53).</summary>
public class PhiloxTests
{
    [Fact]
    public void Uniform_stays_inside_0_and_1()
    {
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
}
