using CureSim.Core.Distributions;
using CureSim.Studies.Drivers;

namespace CureSim.Tests.Studies.Drivers;

/// <summary>Distributions with half their spread or their mean moved.</summary>
public class MovedTests
{
    public static TheoryData<IDistribution> All =>
    [
        new NormalDistribution(3, 0.5), new LognormalDistribution(2, 1.4), new BetaDistribution(38, 2), new UniformDistribution(0.75, 0.95), new WeibullDistribution(4, 4200),
        new TriangularDistribution(1, 2, 4), new ScaledDistribution(new NormalDistribution(0, 1), 0.2, -1),
    ];

    [Theory]
    [MemberData(nameof(All))]
    public void Halved_KeepsTheMeanAndHalvesTheSpread(IDistribution x)
    {
        var half = Moved.Halved(x);
        Assert.Equal(x.Mean, half.Mean, 1e-12);
        Assert.Equal(x.StandardDeviation / 2, half.StandardDeviation, 1e-12);
        foreach (double p in new[] { 1e-6, 0.1, 0.5, 0.97 })
        {
            Assert.Equal((x.Quantile(p) + x.Mean) / 2, half.Quantile(p), 1e-9 * (1 + Math.Abs(x.Mean)));
        }

        Assert.True(half.Minimum >= x.Minimum && half.Maximum <= x.Maximum);
    }

    [Theory]
    [MemberData(nameof(All))]
    public void ByDeviations_MovesTheMeanAndStaysInsideTheSupport(IDistribution x)
    {
        foreach (double by in new[] { 1.0, -1.0 })
        {
            if (Moved.ByDeviations(x, by) is { } moved)
            {
                Assert.Equal(x.Mean + (by * x.StandardDeviation), moved.Mean, 1e-12 * (1 + Math.Abs(x.Mean)));
                Assert.True(moved.Minimum >= x.Minimum - 1e-12 || by > 0);
                Assert.True(moved.Maximum <= x.Maximum + 1e-12 || double.IsFinite(x.Minimum) && double.IsInfinity(x.Maximum) || by < 0);
                Assert.True(x.Minimum < 0 || moved.Minimum >= 0, "what is positive stays so");
                Assert.True(moved.Quantile(0.2) < moved.Quantile(0.8));
            }
        }
    }
}
