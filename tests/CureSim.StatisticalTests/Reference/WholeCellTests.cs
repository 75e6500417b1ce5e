using CureSim.Core.Cell;
using CureSim.Core.Distributions;
using CureSim.Checks.Fixtures;
using static CureSim.Checks.Fixtures.Uncertain;

namespace CureSim.StatisticalTests.Reference;

/// <summary>A cell in which everything happens: what must hold whatever the numbers are.</summary>
public class WholeCellTests
{
    private const double Step = 27000;

    private static Uncertain Log(double sd) => Varying(new NormalDistribution(0, sd));

    private static Uncertain Around(double median, double gsd) => Varying(new LognormalDistribution(median, gsd));

    private static ScenarioBuilder Everything(int partsAStep = 2) => new ScenarioBuilder()
        .Clock(Step, 400).Sites(4, sitesPerPart: 2).Rate(0.06).Run(2, 2, partsAStep, seed: 31)
        .Irradiance(Around(6e4, 1.05)).TwoStageAgeing(0.15, Around(9e5, 1.3), Around(1.2e7, 1.2)).Lit(LitDuring.WholeShift, 7200, 1)
        .Wander(0.01, 20 * Step, true).Failure(Varying(new WeibullDistribution(3, 4e6))).ReplaceEmitterAt(6e6).Drive(1, 0.01, 0.3)
        .OutputSensor(Log(5e-10), alarm: true).Ripple(Log(0.005))
        .Guide(Log(0.03), Log(0.04), Log(0.01), Around(2e-8, 1.5), replaceAtLitSeconds: 3e5).Tip(Around(1e-6, 1.6), 0.95)
        .Distance(0.01, new ConeMeanSpread(0.0025, 0.3), setup: Log(2e-4), part: Log(2.5e-4))
        .Aim(new GaussianBeam(0.004, 2), setup: Log(2e-4), part: Log(3e-4)).BondRadius(3e-4).Tilt(Log(0.02))
        .Disturbance("bracket slips", 1 / (60 * Step), distance: Around(8e-4, 1.6), clearedBy: ClearedBy.FixtureCheck, byCheck: 0.01)
        .Disturbance("kink", 1 / (90 * Step), factor: Around(0.85, 1.05), clearedBy: ClearedBy.GuideReplacement)
        .Disturbance("knock", 1 / (80 * Step), aim: Around(5e-4, 1.5), clearedBy: ClearedBy.BadIndication, wholeCell: true, byReplacement: 0.1)
        .Substrate(0.04, Varying(new NormalDistribution(0.0012, 5e-5)), Varying(new NormalDistribution(250, 10)), lotSteps: 30)
        .Exposure(3, offset: Log(0.01), error: Log(0.008))
        .Cure(1, Around(1.5, 1.08), Unknown(new UniformDistribution(0.5, 0.8)), ratePart: Log(0.03), lotSteps: 45)
        .Checks(10, 3.6e4, adjust: 0.025, action: 0.05, tolerance: 0.1, clean: true, fixtureCheck: true, whenShort: WhenShort.LargerLoss,
            tries: 2, missed: 0.05, late: 0.1, lateSteps: 2)
        .Radiometer(Log(0.02), Log(0.025), 0.5, 50, Log(1e-10), Log(0.005), Log(0.01), 10, 180)
        .Downtime(check: 900, emitter: 3600, guide: 3600, failure: 7200, requalification: 2 * Step)
        .Limit(Response.Dose, 5e4, 1e5).Limit(Response.DegreeOfCure, 0.8)
        .RequalifyOn(false, RequalifyEvent.OutOfToleranceFound, RequalifyEvent.StateLost, RequalifyEvent.LoopSaturated);

    private static LifetimeHistory Run(ScenarioBuilder scenario, int world, uint lifetime) =>
        new ReferenceEngine(scenario.Build(), new NominalVerdict()).Run(world, lifetime);

    public static TheoryData<bool, int, uint> Lifetimes => new() { { false, 0, 0 }, { false, 1, 1 }, { true, 0, 1 }, { true, 1, 0 } };

    [Theory]
    [MemberData(nameof(Lifetimes))]
    public void Accounts_Agree(bool ownEmitters, int world, uint lifetime)
    {
        var history = Run(ownEmitters ? Everything().OneEmitterASite() : Everything(), world, lifetime);

        // In order of time, and as much happened as is needed to test with.
        Assert.All(history.Events.Zip(history.Events.Skip(1)), pair => Assert.True(pair.First.TimeSeconds <= pair.Second.TimeSeconds));
        foreach (var kind in (HistoryKind[])[
            HistoryKind.Arrival, HistoryKind.Cleared, HistoryKind.Failure, HistoryKind.GuideReplaced, HistoryKind.Requalified, HistoryKind.CheckMissed,
            HistoryKind.CheckLate, HistoryKind.Calibration, HistoryKind.NewMeter, HistoryKind.ExcursionStart, HistoryKind.ExcursionDetected])
        {
            Assert.True(history.Of(kind).Any(), $"no {kind} to test with");
        }

        int checks = history.Of(HistoryKind.Check).Count();
        Assert.Equal(checks * 4, history.Verdicts.Values.Sum());
        Assert.Equal(40, checks + history.Of(HistoryKind.CheckMissed).Count() + LateBeyondTheHorizon(history));
        Assert.Equal(history.Of(HistoryKind.EmitterReplaced).Count(), history.EmittersReplaced.Values.Sum());
        Assert.Equal(history.Of(HistoryKind.Failure).Count(), history.EmittersReplaced[ReplacementReason.Failure]);
        Assert.Equal(history.Of(HistoryKind.GuideReplaced).Count(), history.GuidesReplaced.Values.Sum());
        Assert.Equal(history.Of(HistoryKind.Suspect).Sum(s => s.Value), history.SuspectParts, 1e-6);

        // Parts and times: sums of a few thousand intervals.
        Assert.Equal(0.06 * Step * history.Steps.Sum(s => s.UpFraction), history.PartsMade, 1e-6);
        double lastStart = 0, excursions = 0;
        foreach (var e in history.Events.Where(e => e.Kind is HistoryKind.ExcursionStart or HistoryKind.ExcursionEnd).Append(
            new HistoryEvent(400 * Step, HistoryKind.ExcursionEnd)))
        {
            bool starts = e.Kind == HistoryKind.ExcursionStart;
            excursions += starts || lastStart == 0 ? 0 : e.TimeSeconds - lastStart;
            lastStart = starts ? e.TimeSeconds : 0;
        }

        Assert.False(history.NeverQualified);
        Assert.Equal(excursions, history.OutOfStateSeconds, 1e-3);
        Assert.InRange(history.OutOfStateUndetectedSeconds, 0, history.OutOfStateSeconds);
    }

    [Fact]
    public void MorePartsAStep_MoveNothingElse()
    {
        var few = Run(Everything(1), 0, 0);
        var many = Run(Everything(5), 0, 0);

        Assert.Equal(few.Events, many.Events, SameRow);
        Assert.All(few.Steps.Zip(many.Steps), pair =>
        {
            Assert.Equal(pair.First.Sites, pair.Second.Sites);
            var same = pair.Second.Parts.Where(p => p.Number == 0).ToArray();
            Assert.Equal(pair.First.Parts.Select(p => p.TimeSeconds), same.Select(p => p.TimeSeconds));
            Assert.Equal(pair.First.Parts.SelectMany(p => p.Bonds), same.SelectMany(p => p.Bonds));
        });
    }

    // NaN means "none" in a row, and is equal to itself here.
    private static bool SameRow(HistoryEvent a, HistoryEvent b) => a.Equals(b);

    private static int LateBeyondTheHorizon(LifetimeHistory history) =>
        history.Of(HistoryKind.CheckLate).Count(c => c.TimeSeconds > 398 * Step);
}
