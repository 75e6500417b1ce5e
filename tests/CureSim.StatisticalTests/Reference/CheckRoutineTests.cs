using CureSim.Core.Cell;
using CureSim.Core.Distributions;
using CureSim.Checks.Fixtures;
using static CureSim.Checks.Fixtures.Uncertain;

namespace CureSim.StatisticalTests.Reference;

/// <summary>What a check finds and does, and what follows from it, worked by hand. Times in steps of 1000 s, 100 parts a step.</summary>
public class CheckRoutineTests
{
    private const double Step = 1000;
    private const double Target = 1e4;

    private static LifetimeHistory Run(ScenarioBuilder scenario) => new ReferenceEngine(scenario.Build(), new NominalVerdict()).Run(0, 0);

    // E0 twice the target; output loses the given part of its logarithm in a step. No loop.
    private static ScenarioBuilder Ageing(double lossAStep, int steps = 12) => new ScenarioBuilder().Clock(Step, steps).Rate(0.1)
        .Irradiance(2 * Target).ExponentialAgeing(Step / lossAStep).Limit(Response.Dose, 0.5e4, 2e4);

    private static double[] Times(LifetimeHistory history, HistoryKind kind) => [.. history.Of(kind).Select(e => e.TimeSeconds / Step)];

    [Fact]
    public void Verdicts_FollowTheThreeLimitsAndOnlyLeaveDoesNotSet()
    {
        // Loss 0.01 a step, a check each step: 1 − e^(−0.01 n). Left twice; at 0.0296 adjusted.
        var history = Run(Ageing(0.01, 6).Checks(1, Target, adjust: 0.02, action: 0.05));
        Assert.Equal([0, 0, 1, 0, 0, 1], history.Of(HistoryKind.Verdict).Select(v => v.Value));
        Assert.Equal([0, 3, 6], Times(history, HistoryKind.Setting));

        var harsh = Run(Ageing(0.07, 3).Checks(1, Target, adjust: 0.02, action: 0.05, tolerance: 0.1));
        Assert.Equal([2, 2, 2], harsh.Of(HistoryKind.Verdict).Select(v => v.Value));
        Assert.Equal(3, harsh.Verdicts[CheckVerdict.AdjustAndRecord]);
    }

    [Fact]
    public void Suspect_PartsSinceTheEarliestBracketOfTheSitesOutOfTolerance()
    {
        // Loss 0.06 a step, a check every second step. 0.113 in tolerance: a new bracket. 0.213 out: the 200 parts since, and set. Then again.
        var history = Run(Ageing(0.06, 8).Checks(2, Target, adjust: 0.2, action: 0.2, tolerance: 0.2));
        Assert.Equal([4, 8], Times(history, HistoryKind.Suspect));
        Assert.Equal(400, history.SuspectParts, 1e-9);

        // With every check out of tolerance the bracket is opened by the setting.
        var always = Run(Ageing(0.06, 8).Checks(2, Target, adjust: 0.1, action: 0.1, tolerance: 0.1));
        Assert.Equal(800, always.SuspectParts, 1e-9);

        // Heads of their own, new ones at 4 and (older by two steps) at 2 and 6: the check at 7 finds both out, and the earlier bracket counts.
        var two = Run(Ageing(0.12, 7).Sites(2).OneEmitterASite().Now(new PresentState([0, 2 * Step], null, null, null, null, null))
            .ReplaceEmitterAt(4 * Step).Checks(7, Target, adjust: 0.1, action: 0.1, tolerance: 0.1));
        Assert.Equal([4, 2, 6], two.Of(HistoryKind.EmitterReplaced).OrderBy(e => e.Place).Select(e => e.TimeSeconds / Step));
        Assert.Equal(300, two.SuspectParts, 1e-9);
    }

    [Fact]
    public void MissedAndLateChecks_MoveNothingElse()
    {
        Assert.Empty(Times(Run(Ageing(0.01).Checks(3, Target, missed: 1)), HistoryKind.Check));

        var late = Run(Ageing(0.01).Checks(3, Target, late: 1, lateSteps: 2));
        Assert.Equal([5, 8, 11], Times(late, HistoryKind.Check)); // the fourth would come after the horizon
        Assert.Equal([3, 6, 9, 12], Times(late, HistoryKind.CheckLate));

        // Half of them missed: each by its own draw, and those that are made keep their numbers.
        var some = Run(Ageing(0.001, 300).Checks(3, Target, missed: 0.5));
        Assert.Equal(Enumerable.Range(1, 100).Select(c => 3.0 * c), Times(some, HistoryKind.Check).Concat(Times(some, HistoryKind.CheckMissed)).Order());
        Assert.InRange(Times(some, HistoryKind.Check).Length, 28, 72); // binomial 100, ½: 4.4 standard deviations
        Assert.All(some.Of(HistoryKind.Check), c => Assert.Equal(c.TimeSeconds / (3 * Step), c.Value));
    }

    [Theory]
    [InlineData(0.030, 0.020, HistoryKind.EmitterReplaced)]
    [InlineData(0.020, 0.030, HistoryKind.GuideReplaced)]
    public void Short_TheLargerLossIsReplacedOnce(double emitterLoss, double guideLoss, HistoryKind replaced)
    {
        // Headroom 2, action 5 %: full drive is short when the joint loss 0.05·n exceeds ln 2 + 0.0513 = 0.744, so at 15 steps.
        var history = Run(Ageing(emitterLoss, 15).Guide(loss: guideLoss / Step, lit: LitDuring.WholeShift)
            .Checks(1, Target, whenShort: WhenShort.LargerLoss));

        Assert.Equal([15], Times(history, replaced));
        Assert.Empty(history.Of(replaced == HistoryKind.GuideReplaced ? HistoryKind.EmitterReplaced : HistoryKind.GuideReplaced));
        Assert.Empty(history.Of(HistoryKind.Short));
        Assert.Equal(Target, history.Of(HistoryKind.AsLeft).Last().Value, 1e-8);
        Assert.True(Times(Run(Ageing(emitterLoss, 15).Guide(loss: guideLoss / Step, lit: LitDuring.WholeShift).Checks(1, Target)), HistoryKind.Short)
            is [15.0]);
    }

    [Fact]
    public void Legs_AreComparedWithTheirOwnAsLeftValues()
    {
        var scenario = new ScenarioBuilder().Clock(Step, 4).Sites(3).Irradiance(2 * Target).Run(seed: 3)
            .Guide(imbalance: Varying(new NormalDistribution(0, 0.1))).Checks(1, Target, legLimit: 0.05);
        var history = Run(scenario);
        double[] asLeft = [.. history.Of(HistoryKind.AsLeft).Select(a => a.Value)];

        Assert.Equal(Target, asLeft.Average(), 1e-8);
        Assert.True(asLeft.Max() - asLeft.Min() > 0.05 * Target, "the legs are too equal to test with");
        Assert.All(history.Of(HistoryKind.AsFound), a => Assert.Equal(0, a.Other, 1e-12));
        Assert.Equal(
            asLeft.Index().Where(a => Math.Abs((a.Item / Target) - 1) > 0.05).Select(a => a.Index),
            history.Of(HistoryKind.LegBeyondLimit).Select(l => l.Place));

        // By the weakest: it stands at the target. Heads of their own each do.
        Assert.Equal(Target, Run(scenario.Checks(1, Target, setBy: LegIndication.Weakest)).Of(HistoryKind.AsLeft).Min(a => a.Value), 1e-8);
        Assert.All(Run(scenario.OneEmitterASite()).Of(HistoryKind.AsLeft), a => Assert.Equal(Target, a.Value, 1e-8));
    }

    [Fact]
    public void Tries_AreMadeUntilTheAsLeftReadingIsGood()
    {
        // A radiometer that repeats badly: settings until as-left is within 2 %, at most three.
        var history = Run(new ScenarioBuilder().Clock(Step, 30).Irradiance(2 * Target).Run(seed: 3)
            .Checks(1, Target, adjust: 0.02, tries: 3).Radiometer(repeatability: Varying(new NormalDistribution(0, 0.02))));
        var settings = history.Events.Where(e => e.Kind is HistoryKind.AsLeft).GroupBy(e => e.TimeSeconds).ToArray();

        Assert.Contains(settings, s => s.Count() == 2);
        Assert.All(settings, s =>
        {
            double[] off = [.. s.Select(r => Math.Abs((r.Value / Target) - 1))];
            Assert.All(off[..^1], x => Assert.True(x > 0.02));
            Assert.True(off[^1] <= 0.02 || off.Length == 3);
        });
    }

    [Fact]
    public void Harm_ByCheckCleaningAndReplacement_ComesAfterTheRoutine()
    {
        var history = Run(Ageing(0.001, 6).Checks(2, Target, action: 1, tolerance: 1, clean: true).ReplaceEmitterAt(3 * Step)
            .Disturbance("kink", 0, factor: 0.9, byCheck: 1).Disturbance("scratch", 0, factor: 0.9, byCleaning: 1)
            .Disturbance("bump", 0, factor: 0.9, byReplacement: 1));

        Assert.Equal(
            [("kink", 2.0), ("scratch", 2.0), ("bump", 3.0), ("kink", 4.0), ("scratch", 4.0), ("bump", 6.0), ("kink", 6.0), ("scratch", 6.0)],
            history.Of(HistoryKind.Arrival).Select(a => (a.Name, a.TimeSeconds / Step)).OrderBy(a => a.Item2).ThenBy(a => a.Name));

        // After the first check's harm the parts get 0.81 of what was set.
        Assert.Equal(0.81, history.Steps[2].Sites[0].NominalIrradiance / Target * Math.Exp(0.0005), 1e-12);
    }

    [Fact]
    public void BadIndication_ClearsOnlyTheSitesThatShowIt()
    {
        // Each site is knocked at a time of its own; a check each step finds it beyond action and puts right that site alone.
        var history = Run(new ScenarioBuilder().Clock(Step, 40).Sites(3).OneEmitterASite().Irradiance(2 * Target).Run(seed: 12)
            .Checks(1, Target, tolerance: 0.9).Disturbance("knock", 0.1 / Step, factor: 0.8, distance: 1e-9, clearedBy: ClearedBy.BadIndication));
        var arrivals = history.Of(HistoryKind.Arrival).Select(a => (a.Place, Math.Ceiling(a.TimeSeconds / Step))).Distinct()
            .OrderBy(a => a.Item2).ThenBy(a => a.Place).ToArray();

        Assert.True(arrivals.Length > 5, "too few arrivals to test with");
        Assert.Equal(arrivals, history.Of(HistoryKind.Cleared).Select(c => (c.Place, c.TimeSeconds / Step)));
        Assert.Equal(arrivals, history.Of(HistoryKind.SetUp).Where(s => s.TimeSeconds > 0).Select(s => (s.Place, s.TimeSeconds / Step)));
    }
}
