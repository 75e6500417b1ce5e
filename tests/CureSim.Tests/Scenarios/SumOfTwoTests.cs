using CureSim.Core.Distributions;
using CureSim.Scenarios;

namespace CureSim.Tests.Scenarios;

/// <summary>Tail of a sum: against sums whose distribution is known.</summary>
public class SumOfTwoTests
{
    [Theory]
    [InlineData(-2, 0.022750131948179209)]
    [InlineData(-4, 3.1671241833119924e-5)]
    [InlineData(-6, 9.8658764503769814e-10)]
    public void Normals_AddInQuadrature(double z, double probability)
    {
        // 3-4-5: the sum has sd 5. Φ(z) recomputed. 1e-3: good enough to say whether a probability is negligible.
        double found = SumOfTwo.AtMost(5 * z, new NormalDistribution(0, 3), new NormalDistribution(0, 4));
        Assert.Equal(1, found / probability, 1e-3);
    }

    [Fact]
    public void Uniforms_MakeATriangle()
    {
        // P(U + V ≤ x) = x²/2 below 1.
        double found = SumOfTwo.AtMost(0.1, new UniformDistribution(0, 1), new UniformDistribution(0, 1));
        Assert.Equal(0.005, found, 5e-5);
    }

    [Fact]
    public void FixedValues_Shift() => Assert.Equal(0.5, SumOfTwo.AtMost(3, new FixedValue(1), new NormalDistribution(2, 1)), 1e-12);
}
