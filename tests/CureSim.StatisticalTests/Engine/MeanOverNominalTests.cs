using CureSim.Checks.Fixtures;
using CureSim.Core.Cell;
using CureSim.Core.Distributions;
using CureSim.Engine.Plan;
using CureSim.Engine.State;

namespace CureSim.StatisticalTests.Engine;

/// <summary>E[part]/E(nominal) against its closed form.</summary>
public class MeanOverNominalTests
{
    [Theory]
    [InlineData(0.0003, 0.004)]
    [InlineData(0.0010, 0.004)]
    public void Mean_OfAimInAGaussianBeam_IsTheClosedForm(double sigma, double radius)
    {
        // Aim x, y normal with sd σ per axis in a beam of 1/e² radius w: mean factor 1/(1 + 4σ²/w²) (closed form: mean of U^(4σ²/w²)).
        var cell = new ScenarioBuilder().Aim(new GaussianBeam(radius, 2), part: Uncertain.Varying(new NormalDistribution(0, sigma))).Build();
        var model = new RunPlan(cell).FirstWorld;
        double found = new OwnFactors(cell, model.Values, true, false).MeanFactor(0.01, 0.0, 0.0);

        // 1e-3: grid points are a sixtieth of the spread apart, and the mass is spread evenly between them.
        Assert.Equal(1.0 / (1.0 + (4.0 * sigma * sigma / (radius * radius))), found, 1e-3);
        Assert.NotEqual(1.0 / (1.0 + (8.0 * sigma * sigma / (radius * radius))), found, 1e-3); // the planted error: the mean square's form
    }
}
