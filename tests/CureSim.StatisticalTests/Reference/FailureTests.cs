using CureSim.Core.Cell;
using CureSim.Core.Distributions;
using CureSim.Checks.Fixtures;
using static CureSim.Checks.Fixtures.Uncertain;

namespace CureSim.StatisticalTests.Reference;

/// <summary>Sudden failures and downtime, worked by hand with numbers that do not vary. Times in steps of 1000 s.</summary>
public class FailureTests
{
    private const double Step = 1000;
    private const double Exact = 1e-9; // s, of times up to 10⁴ s: sums and quotients of a few numbers

    private static LifetimeHistory Run(ScenarioBuilder scenario) => new ReferenceEngine(scenario.Build(), new NominalVerdict()).Run(0, 0);

    private static ScenarioBuilder Failing(double burnSteps) =>
        new ScenarioBuilder().Clock(Step, 8).Rate(0.1).ExponentialAgeing(1e5).Failure(burnSteps * Step);

    [Fact]
    public void LitWholeShift_TheSuccessorBurnsFromTheMomentOfFailure()
    {
        // Fails every 2.3 steps of burn time: at 2.3, 4.6, 6.9. Middle 2.5 comes after a failure: half of the 0.7 steps left. Middle 4.5 comes
        // before one: 0.7 + 1 + 0.5 steps old. Middle 6.5 too: 0.4 + 1 + 0.5. Middle 7.5: 0.1 + 0.5.
        var history = Run(Failing(2.3).Downtime(failure: 0.25 * Step));

        Assert.Equal([2300, 4600, 6900], history.Of(HistoryKind.Failure).Select(f => Math.Round(f.TimeSeconds, 6)));
        double[] burn = [0.5, 1.5, 0.35, 1.2, 2.2, 0.9, 1.9, 0.6];
        double[] up = [1, 1, 0.75, 1, 0.75, 1, 0.9, 0.85]; // the last failure has 0.1 steps in its step and 0.15 in the next
        for (int k = 0; k < 8; k++)
        {
            Assert.Equal(burn[k] * Step, history.Steps[k].Sites[0].BurnSeconds, Exact);
            Assert.Equal(up[k], history.Steps[k].UpFraction, 1e-12);
            Assert.Equal(1e4 * Math.Exp(-burn[k] / 100), history.Steps[k].Sites[0].NominalIrradiance, 1e-8);
        }

        Assert.Equal(0.1 * Step * up.Sum(), history.PartsMade, Exact);
        Assert.Equal(3, history.EmittersReplaced[ReplacementReason.Failure]);
    }

    [Fact]
    public void LitDuringExposures_TheSuccessorBurnsFromTheEndOfDowntime()
    {
        // Duty 0.1 · 5 s = 0.5. Fails after 1.2 steps of burn time: at 2.4; down to 2.65, up-time 0.75 in that step. Burn left 0.5·0.35, judged at half
        // of it. The next one fails when another 1.2 have burnt: 0.175 + 0.5 + 0.5 = 1.175 at 5, so at 5.05; left 0.5·0.7. The last one has
        // 0.35 + 0.5 at 7 and fails at 7.7; its middle is advanced with the up-time 0.75 of its step.
        var history = Run(Failing(1.2).Lit(LitDuring.Exposures).Exposure(5).Guide().Downtime(failure: 0.25 * Step));

        Assert.Equal([2400, 5050, 7700], history.Of(HistoryKind.Failure).Select(f => Math.Round(f.TimeSeconds, 6)));
        double[] burn = [0.25, 0.75, 0.0875, 0.175 + 0.25, 0.175 + 0.75, 0.175, 0.35 + 0.25, 0.85 + 0.1875];
        double[] lit = [0.25, 0.75, 1.1875, 1.625, 2.125, 2.5625, 3, 3.4375]; // half a step of light a step, 0.375 with a failure
        for (int k = 0; k < 8; k++)
        {
            Assert.Equal(burn[k] * Step, history.Steps[k].Sites[0].BurnSeconds, Exact);
            Assert.Equal(lit[k] * Step, history.Steps[k].Sites[0].LitSeconds, Exact);
            Assert.Equal(2 * lit[k] * Step * 0.1, history.Steps[k].Sites[0].Exposures, Exact);
        }
    }

    [Fact]
    public void Successor_CanFailInTheSameStep()
    {
        var history = Run(Failing(0.4));

        Assert.Equal(
            Enumerable.Range(1, 20).Select(i => 400.0 * i), history.Of(HistoryKind.Failure).Select(f => Math.Round(f.TimeSeconds, 6)));
    }

    [Fact]
    public void Failure_PartsBeforeAndAfterSeeTheirOwnEmitterAndNoneIsMadeInDowntime()
    {
        var history = Run(Failing(2.3).Downtime(failure: 0.25 * Step).Run(partsAStep: 200));
        var step = history.Steps[2];

        Assert.All(step.Parts, p =>
        {
            Assert.Equal(p.TimeSeconds is < 2300 or >= 2550, p.Made);
            if (p.Made)
            {
                double burnSteps = p.TimeSeconds < 2300 ? 2.5 : 0.35;
                Assert.Equal(1e4 * Math.Exp(-burnSteps / 100), p.Bonds[0].Irradiance, 1e-8);
            }
        });
        Assert.Contains(step.Parts, p => p.Made && p.TimeSeconds < 2300);
        Assert.Contains(step.Parts, p => p.Made && p.TimeSeconds >= 2550);
        Assert.Contains(step.Parts, p => !p.Made);
    }

    [Fact]
    public void Downtime_LongerThanAStep_IsCarriedOver()
    {
        // The check at 2 costs 2.5 steps; those at 4, 6 and 8 add theirs to what is left.
        var history = Run(new ScenarioBuilder().Clock(Step, 8).Rate(0.1).Exposure(2).Lit(LitDuring.Exposures)
            .Checks(2, 1e4).Downtime(check: 2.5 * Step));

        double[] up = [1, 1, 0, 0, 0, 0, 0, 0];
        Assert.Equal(up, history.Steps.Select(s => s.UpFraction));
        Assert.Equal(200, history.PartsMade, Exact);

        var once = Run(new ScenarioBuilder().Clock(Step, 8).Rate(0.1).Exposure(2).Lit(LitDuring.Exposures)
            .Checks(5, 1e4).Downtime(check: 1.25 * Step));
        Assert.Equal([1, 1, 1, 1, 1, 0, 0.75, 1], once.Steps.Select(s => s.UpFraction));
        Assert.Equal([0.1, 0.3, 0.5, 0.7, 0.9, 1, 1.075, 1.25], once.Steps.Select(s => Math.Round(s.Sites[0].BurnSeconds / Step, 9)));
    }

    [Fact]
    public void PresentEmitter_FailsLaterThanItHasBurntAlready()
    {
        // Exponential failures: what is left to burn is again exponential, whatever has burnt.
        var scenario = new ScenarioBuilder().Clock(Step, 400).Failure(Varying(new ExponentialDistribution(10 * Step)))
            .Now(new PresentState([50 * Step], null, null, null, null, null));
        double[] left = [.. Enumerable.Range(0, 300).Select(i =>
            new ReferenceEngine(scenario.Build(), new NominalVerdict()).Run(0, (uint)i).Of(HistoryKind.Failure).First().TimeSeconds / Step)];

        // Mean 10, sd of the mean 10/√300; 4.5 of them.
        Assert.InRange(left.Average(), 10 - 2.6, 10 + 2.6);
        Assert.True(left.Min() > 0);
    }
}
