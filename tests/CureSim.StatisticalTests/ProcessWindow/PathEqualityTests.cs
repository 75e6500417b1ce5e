using CureSim.Checks.Fixtures;
using CureSim.Core.Cell;
using CureSim.Core.Distributions;
using CureSim.Engine.Plan;
using CureSim.Engine.Runs;
using CureSim.Studies.ProcessWindow;
using static CureSim.Checks.Fixtures.Uncertain;

namespace CureSim.StatisticalTests.ProcessWindow;

/// <summary>States that the study judges are those that a run judges: same draws, same path, same probability.</summary>
public class PathEqualityTests
{
    private const double Hour = 3600;

    private static Scenario Cell() => new ScenarioBuilder().Clock(8 * Hour, 240, 8 * Hour).Rate(100 / Hour)
        .Irradiance(Varying(new LognormalDistribution(6e4, 1.05))).ExponentialAgeing(4000 * Hour).OutputSensor().Drive(1, 0.01, 0.1)
        .Distance(0.01, new ConeMeanSpread(0.0025, 0.3), setup: Varying(new NormalDistribution(0, 1e-4)), part: Varying(new NormalDistribution(0, 2e-4)))
        .Disturbance("kink", 1 / (200 * Hour), factor: Varying(new UniformDistribution(0.85, 0.95)), clearedBy: ClearedBy.BadIndication)
        .Failure(Varying(new WeibullDistribution(2, 900 * Hour))).Downtime(check: 900, failure: 2 * Hour)
        .Cure(0.97, Varying(new LognormalDistribution(0.5, 1.05)), 0.6, Varying(new NormalDistribution(0, 0.03)), lotSteps: 20)
        .Exposure(2.0).Checks(20, 3e4, adjust: 0.03, action: 0.06, tolerance: 0.1)
        .Radiometer(calibration: Varying(new NormalDistribution(0, 0.015)), session: Varying(new NormalDistribution(0, 0.005)))
        .NoLimit(Response.Dose).Limit(Response.Dose, 5e4, 7.5e4).Limit(Response.DegreeOfCure, 0.75, null)
        .RequalifyOn(false, RequalifyEvent.OutOfToleranceFound).Run(lifetimes: 64, seed: 7).Build();

    [Theory]
    [InlineData(3.0, 2.0)]
    [InlineData(2.7, 2.3)]
    public void ConditionalFraction_IsThatOfARun(double target, double time)
    {
        var cell = WindowCase.Set(Cell(), target, time);
        var run = new LocalRunner(new RunPlan(cell), 2).Run();
        double expected = run.Records.Sum(r => r.ConditionalParts) / run.Records.Sum(r => r.ConditionalStates);
        var study = new WindowCase(Cell(), WindowAxis.Of("checks.target", "E", "W/cm²", 2.7, 3.3, 3, false), WindowAxis.Of("exposure.time", "t", "s", 1.8, 2.6, 3, false));
        var node = WindowColumn.Only(study, target, [time], new MapSize(1000, 100), CancellationToken.None)[0];
        Assert.InRange(expected, 1e-4, 0.5);

        // The same probabilities, added in another order (by lifetime, not by batch).
        Assert.Equal(expected, node.Nonconforming[0], 1e-9 * expected);

        // A selection of the states leaves the fraction what it is, within its own error.
        var few = WindowColumn.Only(study, target, [time], new MapSize(20, 6), CancellationToken.None)[0];
        Assert.NotEqual(node.Nonconforming[0], few.Nonconforming[0]);
        Assert.Equal(node.Conforming.Mean, few.Conforming.Mean, 3 * few.Conforming.Error[0]);
    }

    [Fact]
    public void LitHoursThatFollowTheExposure_BlendedPathsAgreeWithOwnPath()
    {
        var cell = Cell() with { Guide = null };
        cell = cell with { Source = cell.Source with { Lit = LitDuring.Exposures, FailureBurn = null } };
        var x = WindowAxis.Of("checks.target", "E", "W/cm²", 2.7, 3.3, 3, false);
        var blended = new WindowCase(cell, x, WindowAxis.Of("exposure.time", "t", "s", 1.5, 3.0, 5, false));
        Assert.Equal(3, blended.TimesOfPath.Length);

        // A range that ends at 1.8 s follows a path at 1.8 s itself.
        var own = new WindowCase(cell, x, WindowAxis.Of("exposure.time", "t", "s", 1.5, 1.8, 5, false));
        var a = WindowColumn.Only(blended, 3.0, [1.8], new MapSize(1000, 100), CancellationToken.None)[0];
        var b = WindowColumn.Only(own, 3.0, [1.8], new MapSize(1000, 100), CancellationToken.None)[0];

        // Half of the distance between two paths, which differ by a step of the drive here and there; a hundredth of an index is nothing.
        Assert.Equal(b.Smallest, a.Smallest, 0.01);
        Assert.False(WindowCase.PathFollowsTime(Cell()));
    }
}
