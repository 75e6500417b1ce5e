using System.Globalization;
using CureSim.Core.Numerics;

namespace CureSim.Tests.Numerics;

/// <summary>Rows RNG-INV-* and RNG-PHI-* of the published check values (recomputed; three figures of AS 241 recalled from memory).</summary>
public class NormalCheckValueTests
{
    public static TheoryData<string, double, double> Quantiles => Rows("RNG-INV", "Phi^-1(");

    public static TheoryData<string, double, double> Probabilities => Rows("RNG-PHI", "Phi(");

    /// <remarks>
    /// The values belong to the decimal as written. The nearest double lies up to half a unit in the last place beside it, which moves the quantile by that over the
    /// density: at 0.99865 by 2.8·10⁻¹⁵ relative (60-digit arithmetic), more than the 10⁻¹⁵ asked for. Hence the second term; elsewhere it is nothing.
    /// </remarks>
    [Theory]
    [MemberData(nameof(Quantiles))]
    public void Quantile(string id, double p, double expected)
    {
        double argument = 0.5 * (Math.BitIncrement(p) - p) / BlockMath.NormalDensity(expected);
        double error = Math.Abs(BlockMath.NormalQuantile(p) - expected);
        Assert.True(error <= (1e-15 * Math.Abs(expected)) + argument, $"{id}: {BlockMath.NormalQuantile(p):R}, expected {expected:R}");
    }

    [Theory]
    [MemberData(nameof(Probabilities))]
    public void Probability(string id, double x, double expected)
    {
        Assert.InRange(BlockMath.NormalCdf(x) / expected, 1.0 - 1e-14, 1.0 + 1e-14);
        Assert.Equal(BlockMath.NormalCdf(x), BlockMath.NormalSurvival(-x));
        Assert.StartsWith("RNG-PHI", id, StringComparison.Ordinal);
    }

    [Fact]
    public void Upper_half_mirrors_the_lower()
    {
        // 1 − p is exact from ½ up, so the two halves must agree to the bit.
        for (double p = 0.5; p < 1.0; p += 1.0 / 1024.0)
        {
            Assert.Equal(-BlockMath.NormalQuantile(1.0 - p), BlockMath.NormalQuantile(p));
        }
    }

    private static TheoryData<string, double, double> Rows(string prefix, string call)
    {
        var data = new TheoryData<string, double, double>();
        foreach (string[] row in RepositoryData.Rows("published/rng.csv").Where(r => r[0].StartsWith(prefix, StringComparison.Ordinal)))
        {
            Assert.StartsWith(call, row[2], StringComparison.Ordinal);
            data.Add(row[0], Parse(row[2][call.Length..^1]), Parse(row[3]));
        }

        return data;
    }

    private static double Parse(string s) => double.Parse(s, CultureInfo.InvariantCulture);
}
