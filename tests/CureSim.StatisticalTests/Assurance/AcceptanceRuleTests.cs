using CureSim.Core.Cell;
using CureSim.Core.Statistics;
using CureSim.Engine.Runs;
using CureSim.Studies.Assurance;
using static CureSim.StatisticalTests.Assurance.QualifiedCells;

namespace CureSim.StatisticalTests.Assurance;

/// <summary>What a plan accepts. k of the tolerance interval: rows TOL-K-30-95-95 (recomputed by the definitions of ISO 16269-6); n of the success run: TOL-SR-*.</summary>
public class AcceptanceRuleTests
{
    private static Window Dose(double? lower, double? upper) => new([new SpecificationLimits(Response.Dose, lower, null, upper)], false);

    [Theory]
    [InlineData(null, 10.0, 2.219837532)]
    [InlineData(1.0, 10.0, 2.55489281)]
    public void ToleranceInterval_TakesTheExactFactorOfItsLimits(double? lower, double? upper, double expected) =>
        Assert.Equal(expected, new AcceptanceRule(Measured(Acceptance.ToleranceInterval, 30), Dose(lower, upper)).Factors.Single(), 1e-7); // digits of the table

    [Fact]
    public void Capability_TwoLimits_AcceptsFromTheIndexWhoseLowerLimitIsTheRequirement()
    {
        double k = new AcceptanceRule(Measured(Acceptance.Capability, 30, ppk: 1.33), Dose(1, 10)).Factors.Single();
        Assert.Equal(1.33, CapabilityInterval.CpkLower(k / 3, 30, 0.95).Lower!.Value, 1e-9); // bisection to the last bits
        Assert.True(k > 3 * 1.33);
    }

    [Fact]
    public void MeasuredPlan_JudgesEachPositionByItself()
    {
        // Position 0 is narrow and centred; position 1 has the same spread but stands at its limit.
        var rule = new AcceptanceRule(Measured(Acceptance.ToleranceInterval, 3), Dose(0, 20));
        TakenSample Sample(double second)
        {
            var sample = new TakenSample(1, 2);
            foreach (double d in new[] { -0.01, 0.0, 0.01 })
            {
                sample.True[0].Add(10 + d);
                sample.True[1].Add(second + d);
            }

            return sample;
        }

        Assert.True(rule.Accepts(Sample(10)));
        Assert.False(rule.Accepts(Sample(19.99)));
    }

    [Fact]
    public void AttributePlan_CountsWhatItLooksAt()
    {
        var sample = new TakenSample(1, 1) { Parts = 9, Nonconforming = 2, NonconformingRead = 1 };
        Assert.False(new AcceptanceRule(Attribute(9, 1), Dose(1, 2)).Accepts(sample));
        Assert.True(new AcceptanceRule(Attribute(9, 2), Dose(1, 2)).Accepts(sample));
        Assert.True(new AcceptanceRule(Attribute(9, 1, reading: PartReading.Radiometer), Dose(1, 2)).Accepts(sample));
    }

    [Fact]
    public void Defaults_AreTheSuccessRunAndTheToleranceIntervalAt95()
    {
        Assert.Equal([59, 30], AssuranceStudy.DefaultPlans.Select(p => p.Parts)); // 59: row TOL-SR-0.95-0.95
        Assert.Equal(0.04849452524942322, new AcceptanceRule(AssuranceStudy.DefaultPlans[0], Dose(1, 2)).TextbookRisk, 1e-12); // 0.95^59
    }
}
