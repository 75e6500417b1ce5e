using CureSim.Core.Cell;
using CureSim.Core.Distributions;
using CureSim.Studies.ProcessWindow;

namespace CureSim.Tests.Studies.ProcessWindow;

/// <summary>Arithmetic of the qualification plan that needs no simulation.</summary>
public class PlanArithmeticTests
{
    [Theory]
    [InlineData(0.9999, 59, 64)]
    [InlineData(0.99, 59, 64)]
    [InlineData(0.995, 299, 299)]
    public void AllOf_MeanOverBinomialCounts_IsTheChanceItself(double share, int parts, int made)
    {
        double mean = 0.0, powers = 0.0, p = Math.Pow(share, made);
        for (int bad = 0; bad <= made; bad++)
        {
            mean += p * ChallengePoint.AllOf(made - bad, made, parts);
            powers += p * Math.Pow((made - bad) / (double)made, parts);
            p *= (made - bad) / (bad + 1.0) * (1.0 - share) / share;
        }

        // Sums of some hundred terms in double precision.
        Assert.Equal(Math.Pow(share, parts), mean, 1e-12);

        // The planted error, the observed share raised to the number of parts, is told apart.
        Assert.True(powers - mean > 1e-3, $"{powers} against {mean}");
    }

    [Fact]
    public void AllOf_OneNonconforming_IsTheChanceToLeaveItOut() => Assert.Equal(5.0 / 64.0, ChallengePoint.AllOf(63, 64, 59), 1e-14);

    [Fact]
    public void Size_OfWhatIsUnknownOrBiased_IsTheRootMeanSquare()
    {
        Quantity Q(IDistribution varies, IDistribution? unknown = null) => new("radiometer.meter", Level.Meter, varies, unknown);
        Assert.Equal(0.015, ActionLimits.Size(Q(new NormalDistribution(0, 0.015))), 1e-15);
        Assert.Equal(0.05, ActionLimits.Size(Q(new NormalDistribution(0.03, 0.04))), 1e-15);
        Assert.Equal(0.02, ActionLimits.Size(Q(new FixedValue(1), new NormalDistribution(0, 0.02))), 1e-15);
        Assert.Equal(0.05, ActionLimits.Size(Q(new NormalDistribution(0, 0.01), new NormalDistribution(3, 4))), 1e-15);
    }
}
