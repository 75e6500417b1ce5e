using System.Globalization;
using CureSim.Core.Numerics;

namespace CureSim.Tests.Numerics;

/// <summary>Elementary functions against 60-digit values (tests/data/reference/make_references.py, mpmath; recomputed).</summary>
public class ElementaryAccuracyTests
{
    public static TheoryData<string, double> Bounds => new()
    {
        // Units in the last place that the documentation of each function promises.
        { "exp", 1.0 },
        { "log", 1.0 },
        { "sin2pi", 2.0 },
        { "cos2pi", 2.0 },
        { "normal_quantile", 4.5 }, // 1e-15 relative is at least 4.5 ulp
        { "normal_cdf", 9.0 }, // 2e-15 relative is at least 9 ulp
        { "log1p", 2.0 },
        { "expm1", 4.0 },
    };

    [Theory]
    [MemberData(nameof(Bounds))]
    public void Stays_within_the_stated_error(string function, double ulps)
    {
        var f = Function(function);
        int points = 0;
        foreach (string[] row in RepositoryData.Rows("reference/elementary.csv").Where(r => r[0] == function))
        {
            double x = Parse(row[1]), nearest = Parse(row[2]), rest = Parse(row[3]);
            double error = Math.Abs((f(x) - nearest) - rest) / UnitInLastPlace(nearest);
            Assert.True(error <= ulps, $"{function}({row[1]}) = {f(x):R}, expected {row[2]}: {error:F2} ulp");
            points++;
        }

        Assert.True(points > 200);
    }

    [Fact]
    public void The_measure_of_error_sees_one_ulp()
    {
        // The check above would pass with anything if the unit were wrong.
        Assert.Equal(Math.BitIncrement(3.0) - 3.0, UnitInLastPlace(3.0));
        Assert.Equal(double.Epsilon, UnitInLastPlace(1e-310));
    }

    [Fact]
    public void Special_values_are_those_of_the_documentation()
    {
        Assert.Equal(0.0, BlockMath.Exp(double.NegativeInfinity));
        Assert.Equal(0.0, BlockMath.Exp(-746.0));
        Assert.Equal(double.PositiveInfinity, BlockMath.Exp(double.PositiveInfinity));
        Assert.Equal(double.PositiveInfinity, BlockMath.Exp(710.0));
        Assert.Equal(1.0, BlockMath.Exp(-0.0));
        Assert.Equal(double.Epsilon, BlockMath.Exp(-744.5)); // e^−744.5 lies between ½ and 1½ of the smallest subnormal
        Assert.Equal(double.NaN, BlockMath.Exp(double.NaN));
        Assert.Equal(0.0, BlockMath.Log(1.0));
        Assert.Equal(double.NegativeInfinity, BlockMath.Log(0.0));
        Assert.Equal(double.NegativeInfinity, BlockMath.Log(-0.0));
        Assert.Equal(double.PositiveInfinity, BlockMath.Log(double.PositiveInfinity));
        Assert.Equal(double.NaN, BlockMath.Log(-1.0));
        Assert.Equal(double.NegativeInfinity, BlockMath.Log1p(-1.0));
        Assert.Equal(double.PositiveInfinity, BlockMath.Log1p(double.PositiveInfinity));
        Assert.Equal(double.NaN, BlockMath.Log1p(-1.5));
        Assert.Equal(0.0, BlockMath.NormalQuantile(0.5));
        Assert.Equal(double.NegativeInfinity, BlockMath.NormalQuantile(0.0));
        Assert.Equal(double.PositiveInfinity, BlockMath.NormalQuantile(1.0));
        Assert.Equal(double.NaN, BlockMath.NormalQuantile(-1e-9));
        Assert.Equal(double.NaN, BlockMath.NormalQuantile(1.5));
        Assert.Equal(0.5, BlockMath.NormalCdf(0.0));
        Assert.Equal(0.0, BlockMath.NormalCdf(double.NegativeInfinity));
        Assert.Equal(1.0, BlockMath.NormalCdf(double.PositiveInfinity));
        Assert.Equal((0.0, 1.0), BlockMath.SinCos2Pi(1e300)); // a whole number of turns
        Assert.Equal((1.0, 0.0), BlockMath.SinCos2Pi(0.25));
        Assert.Equal((double.NaN, double.NaN), BlockMath.SinCos2Pi(double.PositiveInfinity));
    }

    [Fact]
    public void Powers_follow_their_stated_error()
    {
        // Exact powers of small numbers; the bound is the one in the documentation of Pow.
        foreach (double x in new[] { 0.5, 1.5, 2.0, 3.0, 10.0 })
        {
            double exact = 1.0;
            for (int n = 1; n <= 20; n++)
            {
                exact *= x;
                double bound = (2.0 + (2.0 * Math.Abs(n * Math.Log(x)))) * Math.Pow(2.0, -53);
                Assert.InRange(BlockMath.Pow(x, n) / exact, 1.0 - bound, 1.0 + bound);
            }
        }
    }

    private static double UnitInLastPlace(double x) => Math.BitIncrement(Math.Abs(x)) - Math.Abs(x);

    private static double Parse(string s) => double.Parse(s, CultureInfo.InvariantCulture);

    private static Func<double, double> Function(string name) => name switch
    {
        "exp" => BlockMath.Exp,
        "log" => BlockMath.Log,
        "sin2pi" => u => BlockMath.SinCos2Pi(u).Sin,
        "cos2pi" => u => BlockMath.SinCos2Pi(u).Cos,
        "normal_quantile" => BlockMath.NormalQuantile,
        "normal_cdf" => BlockMath.NormalCdf,
        "log1p" => BlockMath.Log1p,
        "expm1" => BlockMath.ExpMinusOne,
        _ => throw new ArgumentOutOfRangeException(nameof(name), name, "no such function"),
    };
}
