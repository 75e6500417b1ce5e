using CureSim.Checks.Fixtures;
using CureSim.Core.Cell;
using CureSim.Core.Distributions;
using CureSim.Engine.Plan;
using CureSim.Engine.Runs;
using static CureSim.Checks.Fixtures.Uncertain;

namespace CureSim.Tests.Engine;

/// <summary>A plan made after another one takes over its table of own factors where that rests on the same quantities.</summary>
public class PlanAlikeTests
{
    private static ScenarioBuilder Cell() => new ScenarioBuilder().Clock(3600, 40).Sites(2, sitesPerPart: 2).Run(lifetimes: 64, seed: 7)
        .Irradiance(Varying(new LognormalDistribution(1e4, 1.02))).Ripple(Normal(0.01)).Exposure(2, error: Normal(0.02)).Limit(Response.Dose, 1.8e4, 2.2e4);

    private static Uncertain Normal(double sd) => Varying(new NormalDistribution(0.0, sd));

    [Fact]
    public void SameOwnFactors_TableIsShared_NumbersStay()
    {
        var first = new RunPlan(Cell().Build());
        var other = Cell().Build();
        other = other with { Source = other.Source with { Drive = 0.9 } };
        var alone = new RunPlan(other);
        var after = new RunPlan(other, first);
        Assert.Same(first.FirstWorld.Judge.Table, after.FirstWorld.Judge.Table);
        Assert.NotSame(first.FirstWorld.Judge.Table, alone.FirstWorld.Judge.Table);
        static (double, double, double)[] Of(RunPlan plan) => [.. new LocalRunner(plan, 1).Run().Records.Select(r => (r.DoseSum, r.ConditionalBonds, r.OutSeconds))];
        Assert.Equal(Of(alone), Of(after));
    }

    [Fact]
    public void OtherOwnFactors_TableIsMadeAnew()
    {
        var first = new RunPlan(Cell().Build());
        var other = new RunPlan(Cell().Exposure(2, error: Normal(0.03)).Build(), first);
        Assert.NotSame(first.FirstWorld.Judge.Table, other.FirstWorld.Judge.Table);
    }
}
