using CureSim.Core.Cell;
using CureSim.Checks.Fixtures;

namespace CureSim.StatisticalTests.Reference;

/// <summary>Excursions, events to requalify on and requalification, worked by hand. Times in steps of 1000 s, 100 parts a step.</summary>
public class RequalificationTests
{
    private const double Step = 1000;
    private const double Target = 1e4;

    private static LifetimeHistory Run(ScenarioBuilder scenario) => new ReferenceEngine(scenario.Build(), new NominalVerdict()).Run(0, 0);

    private static ScenarioBuilder Ageing(double lossAStep, int steps, double lowerRatio) => new ScenarioBuilder().Clock(Step, steps).Rate(0.1)
        .Irradiance(2 * Target).ExponentialAgeing(Step / lossAStep).Limit(Response.Dose, lowerRatio * Target, 2 * Target);

    private static double[] Times(LifetimeHistory history, HistoryKind kind) => [.. history.Of(kind).Select(e => e.TimeSeconds / Step)];

    [Fact]
    public void Excursion_ByDrift_StartsAtTheMiddleOfTheStepAndEndsAtTheCheck()
    {
        // Loss 0.04 a step from the target, limit at ln 0.85 = −0.1625: the middle 4.5 (0.18) is the first beyond; the check at 6 finds 0.213.
        var history = Run(Ageing(0.04, 12, 0.85).Checks(6, Target).RequalifyOn(true, RequalifyEvent.StateLeft));

        Assert.Equal([4.5, 10.5], Times(history, HistoryKind.ExcursionStart));
        Assert.Equal([6, 12], Times(history, HistoryKind.ExcursionDetected));
        Assert.Equal([6, 12], Times(history, HistoryKind.ExcursionEnd));
        Assert.Equal(new FirstExcursion(4500, 6000, 150), history.FirstExcursion);
        Assert.Equal(3000, history.OutOfStateSeconds, 1e-9);
        Assert.Equal(3000, history.OutOfStateUndetectedSeconds, 1e-9);
        Assert.Equal(new FirstRequalifyEvent(4500, RequalifyEvent.StateLeft), history.FirstRequalify);
        Assert.Equal([4.5, 10.5], Times(history, HistoryKind.RequalifyEvent));
    }

    [Fact]
    public void Excursion_OnceKnown_CountsAsOutButNotAsUndetected()
    {
        // Full drive is never enough again after 18 steps of 0.04 (ln 2 = 0.693, limit at −0.1625 more: 0.856, middle 21.5).
        var history = Run(Ageing(0.04, 30, 0.85).Checks(2, Target));

        Assert.Equal(new FirstExcursion(21500, 22000, 50), history.FirstExcursion);
        Assert.Equal(8500, history.OutOfStateSeconds, 1e-9);
        Assert.Equal(500, history.OutOfStateUndetectedSeconds, 1e-9);
        Assert.Empty(history.Of(HistoryKind.ExcursionEnd));
    }

    [Fact]
    public void NeverQualified_IsNoExcursion()
    {
        var history = Run(new ScenarioBuilder().Clock(Step, 10).Limit(Response.Dose, 2e4).RequalifyOn(true, RequalifyEvent.StateLeft));

        Assert.True(history.NeverQualified);
        Assert.Single(history.Of(HistoryKind.NeverQualified));
        Assert.Null(history.FirstExcursion);
        Assert.Null(history.FirstRequalify);
        Assert.Equal(10 * Step, history.OutOfStateSeconds);
    }

    [Fact]
    public void StateLost_IsCountedOnceUntilACheckFindsItAbsent()
    {
        // Lost at the check at 22 (loss 0.88 against 0.693 + 0.1625); the emitter is replaced at 26 steps of burn time, so the check at 26 finds
        // the state good again and the next loss counts: 22 steps later.
        var history = Run(Ageing(0.04, 60, 0.85).Checks(2, Target).ReplaceEmitterAt(26 * Step).RequalifyOn(true, RequalifyEvent.StateLost));

        Assert.Equal([22, 48], Times(history, HistoryKind.RequalifyEvent));
        Assert.Equal(new FirstRequalifyEvent(22000, RequalifyEvent.StateLost), history.FirstRequalify);
    }

    [Fact]
    public void EqualTime_TheCauseWrittenEarlierWins()
    {
        // Heads of their own. At 4 the second one's planned life ends, and only then does the check find the first one out of tolerance.
        var both = Run(Ageing(0.1, 6, 0.1).Sites(2).OneEmitterASite().Checks(4, Target).Now(new PresentState([0, 2 * Step], null, null, null, null, null))
            .ReplaceEmitterAt(5.5 * Step).RequalifyOn(true, RequalifyEvent.EmitterReplaced, RequalifyEvent.OutOfToleranceFound));
        Assert.Equal([4, 4, 6], Times(both, HistoryKind.RequalifyEvent));
        Assert.Equal(new FirstRequalifyEvent(4000, RequalifyEvent.OutOfToleranceFound), both.FirstRequalify);
    }

    [Fact]
    public void LoopSaturated_RequalificationReplacesTheEmitterAndRecommissions()
    {
        // Headroom 2 at 0.1 a step: u* passes 1 at 6.93; the alarm at 7.5 is answered at 8 with a new emitter, set-up and cleaning. The latch is
        // released by the check at 10, so the new emitter's saturation at 14.93 is told at 15.5 and answered at 16.
        var history = Run(Ageing(0.1, 20, 0.5).OutputSensor(alarm: true).Checks(10, Target, clean: true).Downtime(emitter: 100, requalification: 200)
            .RequalifyOn(false, RequalifyEvent.LoopSaturated));

        Assert.Equal([7.5, 15.5], Times(history, HistoryKind.Alarm));
        Assert.Equal([8, 16], Times(history, HistoryKind.Requalified));
        Assert.Equal([8, 16], Times(history, HistoryKind.EmitterReplaced));
        Assert.Equal(2, history.EmittersReplaced[ReplacementReason.Requalification]);
        Assert.Equal([0, 8, 16], Times(history, HistoryKind.SetUp));
        Assert.Equal([8, 10, 16, 20], Times(history, HistoryKind.Cleaned));
        Assert.Equal(0.7, history.Steps[8].UpFraction, 1e-12);
        Assert.Equal(Target, history.Steps[8].Sites[0].NominalIrradiance, 1e-8);

        // Without an alarm the check that meets it tells, at 10. The check at 20 meets it again: never absent at a check, so not counted again; with
        // checks each fifth step the one at 15 finds it absent, and the one at 20 tells.
        var quiet = Ageing(0.1, 20, 0.3).OutputSensor().RequalifyOn(false, RequalifyEvent.LoopSaturated);
        Assert.Equal([10], Times(Run(quiet.Checks(10, Target)), HistoryKind.Requalified));
        Assert.Equal([10, 20], Times(Run(quiet.Checks(5, Target)), HistoryKind.Requalified));
    }

    [Fact]
    public void Requalification_ClearsDisturbancesAndReplacesWhatIsShort()
    {
        // A kink stays through checks. The knock at an unknown time takes 40 %; with headroom 2 and an old emitter it is out of reach.
        var history = Run(Ageing(0.02, 60, 0.7).Run(seed: 2).Checks(3, Target, action: 0.05)
            .Disturbance("kink", 0.03 / Step, factor: 0.6, clearedBy: ClearedBy.BadIndication)
            .Disturbance("scratch", 0.03 / Step, factor: 0.99).RequalifyOn(false, RequalifyEvent.StateLost));
        var requalified = history.Of(HistoryKind.Requalified).ToArray();

        Assert.NotEmpty(requalified);
        Assert.Equal(requalified.Length, history.EmittersReplaced[ReplacementReason.Requalification]);
        Assert.All(history.Of(HistoryKind.Cleared), c => Assert.Equal("kink", c.Name));
        Assert.NotEmpty(history.Of(HistoryKind.Cleared));
    }

    [Fact]
    public void PresentDrive_GoesOnWithoutSetting()
    {
        var now = new PresentState([3 * Step], [7 * Step], [0.8], null, [40], [9e3]);
        var history = Run(Ageing(0.01, 4, 0.5).OutputSensor(1e-6).Guide(loss: 1e-6, lit: LitDuring.WholeShift).Tip(1e-4).Checks(2, Target).Now(now));

        Assert.DoesNotContain(history.Of(HistoryKind.Setting), s => s.TimeSeconds == 0);
        Assert.Equal(0.8, Assert.Single(history.CommissionedDrive));
        var site = history.Steps[0].Sites[0];
        double held = 2 * Target * Math.Exp(-0.03) * 0.8 * Math.Exp(-1e-6 * 500);
        Assert.Equal(3.5 * Step, site.BurnSeconds);
        Assert.Equal(7.5 * Step, site.LitSeconds);
        Assert.Equal(90, site.Exposures);
        Assert.Equal(held * Math.Exp(-0.0075 - 0.009), site.NominalIrradiance, 1e-8);
        Assert.Equal(
            Math.Abs((2 * Target * Math.Exp(-0.03) * 0.8 * Math.Exp(-0.002 - 0.009 - 0.024) / Target) - 1),
            history.Of(HistoryKind.AsFound).First().Other,
            1e-12); // one site has the target as its reference
    }
}
