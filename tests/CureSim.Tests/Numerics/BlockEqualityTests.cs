using System.Runtime.Intrinsics;
using CureSim.Core.Numerics;

namespace CureSim.Tests.Numerics;

/// <summary>The three forms of a function agree to the bit, at every length and with special values at every place.</summary>
public class BlockEqualityTests
{
    private delegate void SpanForm(ReadOnlySpan<double> x, Span<double> y);

    private sealed record Forms(Func<double, double> Scalar, Func<Vector512<double>, Vector512<double>> Vector, SpanForm Span);

    private static readonly Dictionary<string, Forms> Functions = new()
    {
        ["exp"] = new(BlockMath.Exp, BlockMath.Exp, BlockMath.Exp),
        ["log"] = new(BlockMath.Log, BlockMath.Log, BlockMath.Log),
        ["log1p"] = new(BlockMath.Log1p, BlockMath.Log1p, BlockMath.Log1p),
        ["sin2pi"] = new(u => BlockMath.SinCos2Pi(u).Sin, u => BlockMath.SinCos2Pi(u).Sin, (u, y) => BlockMath.SinCos2Pi(u, y, new double[u.Length])),
        ["cos2pi"] = new(u => BlockMath.SinCos2Pi(u).Cos, u => BlockMath.SinCos2Pi(u).Cos, (u, y) => BlockMath.SinCos2Pi(u, new double[u.Length], y)),
        ["normal_quantile"] = new(BlockMath.NormalQuantile, BlockMath.NormalQuantile, BlockMath.NormalQuantile),
        ["normal_cdf"] = new(BlockMath.NormalCdf, BlockMath.NormalCdf, BlockMath.NormalCdf),
        ["pow"] = new(x => BlockMath.Pow(x, 0.7), x => BlockMath.Pow(x, Vector512.Create(0.7)), (x, y) => BlockMath.Pow(x, 0.7, y)),
    };

    private static readonly double[] Special =
    [
        0.0, -0.0, double.PositiveInfinity, double.NegativeInfinity, double.NaN, -double.NaN, double.Epsilon, -double.Epsilon, 1e-310,
        2.2250738585072014e-308, double.MaxValue, double.MinValue, 1.0, -1.0, 0.5, 0.25, 0.75, 0.075, 0.925, 1e-300, 1.3887943864964021e-11,
        Math.BitDecrement(1.3887943864964021e-11), 1.0 - 1e-12, Math.BitDecrement(1.0), Math.BitIncrement(1.0), 709.78, 709.79, -708.5, -745.0, -745.2,
        -746.0, 710.0, 38.5, -37.6, 39.0, 40.0, -40.0, 4503599627370495.5, 1e300, 0.7071067811865476, 2.0,
    ];

    public static TheoryData<string> Names => new(Functions.Keys);

    [Theory]
    [MemberData(nameof(Names))]
    public void Every_length_gives_the_scalar_bits(string name)
    {
        var f = Functions[name];
        for (int length = 0; length <= 256; length++)
        {
            double[] x = Points(length, seed: length), y = new double[length];
            f.Span(x, y);
            AssertSame(name, x, Array.ConvertAll(x, v => f.Scalar(v)), y);
        }
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void Special_values_give_the_scalar_bits_and_disturb_no_neighbour(string name)
    {
        var f = Functions[name];
        foreach (double special in Special)
        {
            for (int lane = 0; lane < Vector512<double>.Count; lane++)
            {
                double[] x = Points(Vector512<double>.Count, seed: lane);
                x[lane] = special;
                var y = new double[x.Length];
                f.Vector(Vector512.Create(x)).CopyTo(y);
                AssertSame(name, x, Array.ConvertAll(x, v => f.Scalar(v)), y);
            }
        }
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void Random_bit_patterns_give_the_scalar_bits(string name)
    {
        // Any 64 bits are a double: this walks over all exponents, signs and not-a-numbers.
        var f = Functions[name];
        var x = new double[1 << 14];
        ulong state = 1;
        for (int i = 0; i < x.Length; i++)
        {
            state = (state * 6364136223846793005) + 1442695040888963407;
            x[i] = BitConverter.UInt64BitsToDouble(state ^ (state >> 31));
        }

        var y = new double[x.Length];
        f.Span(x, y);
        AssertSame(name, x, Array.ConvertAll(x, v => f.Scalar(v)), y);
    }

    /// <summary>
    /// The bits of 2,016 values of each function, folded into one number. It was the same with 512-, 256- and 128-bit vectors and with no vector or fused
    /// multiply-add instructions at all; it must be the same on every machine, and a change of a kernel must be seen as one.
    /// </summary>
    [Theory]
    [InlineData("exp", 8841630588016697104UL)]
    [InlineData("log", 3885164324949826711UL)]
    [InlineData("sin2pi", 7950955310980011776UL)]
    [InlineData("cos2pi", 2276960116709292960UL)]
    [InlineData("normal_quantile", 432641777858711935UL)]
    [InlineData("normal_cdf", 18401745375261491830UL)]
    [InlineData("pow", 11916862254533969728UL)]
    public void Bits_are_the_same_on_every_machine(string name, ulong expected)
    {
        double[] x = Points(2016, seed: 1), y = new double[x.Length];
        Functions[name].Span(x, y);
        ulong fold = 14695981039346656037UL;
        foreach (double value in y)
        {
            fold = (fold ^ BitConverter.DoubleToUInt64Bits(value)) * 1099511628211UL;
        }

        Assert.Equal(expected, fold);
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void Result_may_take_the_memory_of_the_argument(string name)
    {
        var f = Functions[name];
        double[] x = Points(61, seed: 5), expected = new double[61];
        f.Span(x, expected);
        double[] inPlace = [.. x];
        f.Span(inPlace, inPlace);
        AssertSame(name, x, expected, inPlace);
    }

    [Fact]
    public void Unequal_lengths_and_shifted_overlaps_are_refused()
    {
        var x = new double[20];
        Assert.Throws<ArgumentException>(() => BlockMath.Exp(x, new double[19]));
        Assert.Throws<ArgumentException>(() => BlockMath.Exp(x.AsSpan(0, 10), x.AsSpan(1, 10)));
        Assert.Throws<ArgumentException>(() => BlockMath.SinCos2Pi(x, x, x));
        Assert.Throws<ArgumentException>(() => BlockMath.SinCos2Pi(x, new double[20], new double[21]));
    }

    /// <summary>Probabilities in even places, numbers of either sign in odd ones.</summary>
    private static double[] Points(int length, int seed)
    {
        var x = new double[length];
        for (int i = 0; i < length; i++)
        {
            double u = CureSim.Core.Random.Draw.Uniform(77, seed, (uint)i, new CureSim.Core.Random.StreamKey(3), 0);
            x[i] = i % 2 == 0 ? u : (u - 0.5) * 60.0;
        }

        return x;
    }

    private static void AssertSame(string name, double[] x, double[] expected, double[] actual)
    {
        for (int i = 0; i < x.Length; i++)
        {
            Assert.True(
                BitConverter.DoubleToInt64Bits(expected[i]) == BitConverter.DoubleToInt64Bits(actual[i]),
                $"{name}({x[i]:R}) at {i} of {x.Length}: {expected[i]:R} alone, {actual[i]:R} in a block");
        }
    }
}
