using CureSim.Checks.Fixtures;
using CureSim.Core.Cell;
using CureSim.Core.Distributions;
using CureSim.Engine.Plan;
using CureSim.Engine.Runs;
using CureSim.Studies.Drivers;
using static CureSim.Checks.Fixtures.Uncertain;

namespace CureSim.StatisticalTests.Drivers;

/// <summary>Boosted trees on lifetimes' draws where it is known what decides, and where nothing in the draws does.</summary>
public class ImportanceTests
{
    private const double Step = 28800;

    // A loop of headroom 1.5 saturates at τ·ln 1.5, so the ageing time alone decides; the guide decides nothing.
    private static Scenario Saturating(ulong seed) => new ScenarioBuilder().Clock(Step, 120).Run(lifetimes: 512, seed: seed).Irradiance(1e4).Drive(1 / 1.5).OutputSensor(alarm: true)
        .ExponentialAgeing(Varying(new LognormalDistribution(150 * Step, 1.3))).Guide(Varying(new NormalDistribution(0, 0.02)))
        .RequalifyOn(true, RequalifyEvent.LoopSaturated).Limit(Response.Dose, lower: 1.0).Capability(null).Build();

    [Fact]
    public void OneDrawDecides_ItIsNamedAndItsEffectRises()
    {
        var run = new LocalRunner(new RunPlan(Saturating(81)), 2).Run();
        var time = Importance.Of(run).Single(i => i.Id == "time_to_requalify");
        Assert.Null(time.Withheld);
        Assert.InRange(time.RSquared.Get(), 0.9, 1.0);
        Assert.EndsWith("ageing.time", time.Inputs[0].Input, StringComparison.Ordinal);
        Assert.True(time.Inputs[0].Drop.Get() > 1.0);
        Assert.InRange(time.Inputs.Single(i => i.Input == "guide.transmission").Drop.Get(), -0.05, 0.05);
        Assert.Contains("held at the horizon", time.Note, StringComparison.Ordinal);
        var effect = time.Effects[0];
        Assert.Equal(effect.Mean.Order(), effect.Mean);

        // At its median of 150 steps the cell saturates at 150·ln 1.5 steps of 8 h; a node of the curve lies within a step or two of it, as trees are steps themselves.
        int middle = effect.X.Length / 2;
        Assert.Equal(effect.X[middle] / 3600.0 * Math.Log(1.5), effect.Mean[middle], 40.0);
    }

    [Fact]
    public void NothingInTheDrawsDecides_RankingIsWithheld()
    {
        // Wander ends the state, and none of its values is a feature.
        var scenario = new ScenarioBuilder().Clock(Step, 60).Run(lifetimes: 512, seed: 82).Irradiance(Varying(new LognormalDistribution(1e4, 1.02)))
            .Guide(loss: 1e-8).Wander(0.05, 3 * Step, false).Limit(Response.Dose, lower: 7e3).Capability(null).RequalifyOn(true, RequalifyEvent.StateLeft).Build();
        var time = Importance.Of(new LocalRunner(new RunPlan(scenario), 2).Run()).Single(i => i.Id == "time_to_requalify");
        Assert.NotNull(time.Withheld);
        Assert.Empty(time.Inputs);
    }

    [Fact]
    public void SameRun_SameNumbers()
    {
        var (a, b) = (Importance.Of(new LocalRunner(new RunPlan(Saturating(83)), 1).Run()), Importance.Of(new LocalRunner(new RunPlan(Saturating(83)), 3).Run()));
        Assert.Equal(a[0].Inputs.ToArray(), b[0].Inputs.ToArray());
        Assert.Equal(a[0].Effects[0].Mean.ToArray(), b[0].Effects[0].Mean.ToArray());
    }
}
