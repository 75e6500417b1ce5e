using CureSim.Checks.Fixtures;
using CureSim.Core.Cell;
using CureSim.Core.Distributions;
using CureSim.Core.Numerics;
using CureSim.Core.Statistics;
using CureSim.Studies.Assurance;
using static CureSim.Checks.Fixtures.Uncertain;
using static CureSim.StatisticalTests.Assurance.QualifiedCells;

namespace CureSim.StatisticalTests.Assurance;

/// <summary>Where nothing but the part itself varies, parts are independent and the textbook is right. Oracles: binomial; exact confidence of the factors of ISO 16269-6.</summary>
public class IndependentPartsTests
{
    private const int Lifetimes = 4096;
    private const double Sigma = 0.05;

    // A cell whose parts differ by ripple alone: ln dose is normal with standard deviation Sigma.
    private static ScenarioBuilder Rippled(double nonconforming, ulong seed) => new ScenarioBuilder().Clock(Step, 16).Run(lifetimes: Lifetimes, seed: seed).Ripple(Log(Sigma))
        .Limit(Response.Dose, lower: 1e4 * Math.Exp(Sigma * BlockMath.NormalQuantile(nonconforming)));

    [Theory]
    [InlineData(59, 0, 0.02)]
    [InlineData(93, 1, 0.05)]
    [InlineData(20, 3, 0.15)]
    public void Attribute_Plan_PassesAsOftenAsTheBinomial(int parts, int allowed, double p)
    {
        var own = Study(Rippled(p, 31), Attribute(parts, allowed)).Plans[0].Own;
        Near(OperatingCharacteristic.Attribute(parts, allowed, p), own.Horizon!.Pass.Estimate.Value, Lifetimes);

        // Planted error: counting bonds of one part fewer would be seen at the largest of these n·p, where the chance to pass is near 0.3.
        Assert.True(Math.Abs(OperatingCharacteristic.Attribute(0.5 * parts, allowed, p) - own.Horizon.Pass.Estimate.Value!.Value) > 0.05);
    }

    [Fact]
    public void ToleranceInterval_OneLimit_AcceptsTheBorderlineCellWithOneMinusTheConfidence()
    {
        // Dose is normal: fixed irradiance times a normal exposure time. The borderline cell has 5 % above the limit.
        var cell = new ScenarioBuilder().Clock(Step, 16).Run(lifetimes: Lifetimes, seed: 32).Exposure(1, error: Varying(new NormalDistribution(0, 0.02))).NoLimit(Response.Dose)
            .Limit(Response.Dose, upper: 1e4 * (1 + (0.02 * BlockMath.NormalQuantile(0.95))));
        var study = Study(cell, Measured(Acceptance.ToleranceInterval, 30), Measured(Acceptance.ToleranceInterval, 10));
        Assert.All(study.Plans, p => Near(0.05, p.Own.Horizon!.Pass.Estimate.Value, Lifetimes));
        Assert.All(study.Plans, p => Assert.Equal(0.05, p.Rule.Textbook(0.05), 6)); // the factor is the root of this very equation; its search ends at 1e-7
    }

    [Fact]
    public void Capability_OneLimit_AcceptsTheBorderlineCellWithOneMinusTheConfidence()
    {
        var cell = new ScenarioBuilder().Clock(Step, 16).Run(lifetimes: Lifetimes, seed: 33).Exposure(1, error: Varying(new NormalDistribution(0, 0.02))).NoLimit(Response.Dose)
            .Limit(Response.Dose, upper: 1e4 * (1 + (3 * 1.0 * 0.02)));
        Near(0.05, Study(cell, Measured(Acceptance.Capability, 25, ppk: 1.0)).Plans[0].Own.Horizon!.Pass.Estimate.Value, Lifetimes);
    }

    [Fact]
    public void ToleranceInterval_TwoLimits_NeverAcceptsMoreThanOneMinusTheConfidence()
    {
        // An interval inside limits that hold exactly 95 % covers at most 95 %, which happens with a chance of at most 5 %.
        double half = 0.02 * BlockMath.NormalQuantile(0.975);
        var cell = new ScenarioBuilder().Clock(Step, 16).Run(lifetimes: Lifetimes, seed: 34).Exposure(1, error: Varying(new NormalDistribution(0, 0.02)))
            .Limit(Response.Dose, 1e4 * (1 - half), 1e4 * (1 + half));
        double pass = Study(cell, Measured(Acceptance.ToleranceInterval, 30)).Plans[0].Own.Horizon!.Pass.Estimate.Value!.Value;
        Assert.InRange(pass, 0.001, 0.05 + (3 * Math.Sqrt(0.05 * 0.95 / Lifetimes)));
    }

    [Fact]
    public void OperatingCharacteristic_CellsThatDifferForLife_FollowsTheBinomial()
    {
        // Each cell keeps its emitter and so its fraction for life; the parts of a cell are independent given that fraction, which the engine knows without sampling.
        var cell = Rippled(0.02, 35).Irradiance(Varying(new LognormalDistribution(1e4, 1.03))).Guide();
        var plan = Study(cell, Attribute(59, 0, reliability: 0.98)).Plans[0];
        Assert.True(plan.Curves[0].Points.Length >= 8);
        double sum = 0, variance = 0;
        foreach (var point in plan.Curves[0].Points)
        {
            // Within a bin the curve bends: the allowance is its change from the bin's mean to the mean of the curve, under 0.02 for bins this narrow.
            double textbook = OperatingCharacteristic.Attribute(59, 0, point.Nonconforming);
            Near(textbook, point.Pass.Value, point.Lifetimes, 0.02);
            sum += point.Lifetimes * (point.Pass.Value!.Value - textbook);
            variance += point.Lifetimes * textbook * (1 - textbook);
        }

        Assert.True(Math.Abs(sum) < (3 * Math.Sqrt(variance)) + (0.005 * Lifetimes), $"{sum} against {Math.Sqrt(variance)}");

        // Such cells need no more set-ups: parts at a moment of their own prove as much, and the parts are worth what they are.
        var own = plan.Own;
        var apart = plan.Rows.Single(r => r.Taking is null);
        Near(apart.Horizon!.Pass.Estimate.Value!.Value, own.Horizon!.Pass.Estimate.Value, Lifetimes);
        Assert.InRange(59.0, own.EquivalentParts!.Lower95!.Value, own.EquivalentParts.Upper95!.Value);
        Assert.InRange(own.Horizon.PassIfNotGood.Estimate.Value!.Value, 0.0, plan.Rule.TextbookRisk);
    }
}
