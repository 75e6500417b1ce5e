using CureSim.Checks.Fixtures;
using CureSim.Core.Cell;
using CureSim.Core.Distributions;
using CureSim.Studies.Interval;
using static CureSim.Checks.Fixtures.Uncertain;

namespace CureSim.StatisticalTests.Interval;

/// <summary>Over-adjustment, faults against controls, and one reading of today.</summary>
public class LimitsAndFaultsTests
{
    private const double Step = 28800;
    private const double Target = 5e3;

    private static Uncertain Log(double sd) => Varying(new NormalDistribution(0, sd));

    [Fact]
    public void AdjustLimit_NearTwiceTheNoise_BeatsNoneAndTooWide()
    {
        // Each reading has a log error of 2 %, the output falls by 0.02 % between checks. Following every reading keeps the whole error of the last one; a limit of 4 % moves
        // the output only where it is likely to be off; one of 15 % lets it fall out of the window (the funnel rules of W. E. Deming, Out of the Crisis, 1986, recalled from memory).
        var cell = new ScenarioBuilder().Clock(Step, 200).Irradiance(4 * Target).ExponentialAgeing(5000 * Step).Ripple(Log(0.015))
            .Checks(1, Target, adjust: 0.04, action: 0.2, tolerance: 0.5).Radiometer(repeatability: Log(0.02)).Limit(Response.Dose, Target * 0.95, Target * 1.05)
            .Run(lifetimes: 256, seed: 20264).Build() with { IntervalStudy = IntervalStudy.Usual with { AdjustLimits = [0.0, 0.04, 0.15] } };
        CheckTiming[] timings = [new("1 step", 1, null, null, false), new("5 steps", 5, null, null, false)];
        var grid = LimitGrid.Of(CrossedLimit.Adjust, cell, timings, timings[0], (t, s) => CandidateRun.Run(t, s, 2, null, default));
        var (none, near, wide) = (grid.At(0, 0), grid.At(0, 1), grid.At(0, 2));

        string told = string.Join("; ", new[] { none, near, wide }.Select(r => r.Find(IntervalMeasures.Ppm)!.Estimate.ToString()));

        // Paired 95 % limits beyond zero on both sides.
        Assert.True(none.Difference(near, IntervalMeasures.Ppm).Upper95 < 0, told);
        Assert.True(near.Difference(wide, IntervalMeasures.Ppm).Lower95 > 0, told);
    }

    private static ScenarioBuilder Lamp() => new ScenarioBuilder().Clock(Step, 300).Irradiance(2 * Target)
        .Distance(0.01, new InverseSquareSpread(0.0)).Checks(5, Target, adjust: 0.02, action: 0.05, tolerance: 0.1, fixtureCheck: true)
        .Limit(Response.Dose, Target * 0.8, Target * 1.2).Run(lifetimes: 200, seed: 20265);

    private static DetectionCell Cell(Scenario cell, string fault, string control) =>
        DetectionMatrix.Of(cell, CheckTimings.Of(cell.Checks!, "as written"), 2, default).Rows.Single(r => r.Fault.StartsWith(fault, StringComparison.Ordinal)).Cells.Single(c => c.Control == control);

    [Fact]
    public void Knock_IsSeenByTheFixtureCheckOnly_WithTheTipAdapter()
    {
        var cell = Lamp().Disturbance("knock", 1 / (100 * Step), distance: 0.001, clearedBy: ClearedBy.FixtureCheck).Build();
        Assert.Equal(0, Cell(cell, "fixture", "check").Chance.Value);
        Assert.Contains("tip adapter", Cell(cell, "fixture", "check").Remark, StringComparison.Ordinal);
        var look = Cell(cell, "fixture", "fixture check");

        // Of arrivals in the 300 steps all but those after the last check are met by one; the last check is at the end, so all of them.
        Assert.Equal(1, look.Chance.Value);

        // Uniform in an interval of five steps of 8 h: 20 h on average, its median with 114 arrivals within three standard errors, 40/√(4·114)·3 = 5.6 h, and half a step.
        Assert.InRange(look.MedianHours!.Value, 20 - 5.6 - 4, 20 + 5.6 + 4);

        // In the place of the bond the radiometer does see it: 1.1⁻² of the light is 17 % less.
        var fixture = Lamp().Disturbance("knock", 1 / (100 * Step), distance: 0.001, clearedBy: ClearedBy.FixtureCheck)
            .With(s => s with { Checks = s.Checks! with { MeasuredAt = MeasuredAt.BondFixture } }).Build();
        Assert.Equal(1, Cell(fixture, "fixture", "check").Chance.Value);
    }

    [Fact]
    public void Loop_HidesAgeingFromTheCheck_AndShowsItInTheDrive()
    {
        // Output e^(−t/400 steps) from twice the target: the drive has risen by 5 % after 20 steps; the light begins to fall when the loop is saturated, after 277.
        var cell = Lamp().ExponentialAgeing(400 * Step).OutputSensor(alarm: true).Build();
        var drive = Cell(cell, "emitter", "drive reading");
        Assert.Equal(1, drive.Chance.Value);

        // Onset when 5 % is lost: 400·ln(2/0.95) = 297.8 steps, first seen in the middle of step 298; the drive at 400·ln 1.05 = 19.5: lead of 279 steps of 8 h, two steps of resolution.
        Assert.Equal(-279 * 8.0, drive.MedianHours!.Value, 16.0);
        Assert.Equal(1, Cell(cell, "emitter", "alarm").Chance.Value);
        Assert.True(Cell(cell, "emitter", "alarm").MedianHours < -100);
    }

    [Fact]
    public void SensorDrift_IsCopiedIntoTheProduct_AndOnlyTheCheckSeesIt()
    {
        var cell = Lamp().OutputSensor(drift: 0.1 / (100 * Step), alarm: true).Build();
        Assert.Equal(1, Cell(cell, "drift of the loop", "check").Chance.Value);
        var alarm = Cell(cell, "drift of the loop", "alarm");
        Assert.Equal(0, alarm.Chance.Value);
        Assert.Contains("believes", alarm.Remark, StringComparison.Ordinal);
    }

    [Fact]
    public void LowReading_OfACellThatOnlyFouls_IsPutDownToFouling()
    {
        // Fouling of 4 % ± 1 % in an interval and an exact radiometer: a reading 4 % low is fouling and nothing else.
        double exposures = 0.02 * 5 * Step;
        var cell = Lamp().Tip(Varying(new NormalDistribution(0.04 / exposures, 0.01 / exposures))).With(s => s with { Checks = s.Checks! with { Clean = true } }).Build();
        var found = ReadingToday.Of(cell, Target * 0.96, 0, 2, default);
        Assert.Equal("adjust", found.Verdict);
        Assert.Equal("fouling", found.Causes[0].Name);
        
        // 1e-6: a tip that happens to gain (four standard deviations) is not put down to fouling, and such readings weigh next to nothing here.
        Assert.Equal(1.0, found.Causes[0].Chance.Get(), 1e-6);
        Assert.True(found.EffectiveLifetimes > 50);

        // A reading that no simulated cell comes near is not explained.
        var strange = ReadingToday.Of(cell, Target * 1.3, 0, 2, default);
        Assert.Equal("out of tolerance", strange.Verdict);
        Assert.NotNull(strange.Withheld);
        Assert.Empty(strange.Causes);
    }

    [Fact]
    public void ReadingOutsideTheLimit_IsNotPutDownToWhatNeverLeavesIt()
    {
        // Action limit 5 %. Fouling takes 0 to 4.9 % between cleanings, evenly, so alone it never leaves the limit; a cloud over the light takes 4.5 % more. A reading 5.2 % low is then the cloud with 0.7 % of fouling:
        // 1 − (1 − 0.052)/(1 − 0.045). As long as all is below 8.8 %, the cloud is the larger part. Readings just inside the limit are fouling and far more frequent: they must not be counted.
        double exposures = 0.02 * 5 * Step;
        var cell = Lamp().Tip(Varying(new UniformDistribution(0.0, -Math.Log(1.0 - 0.049) / exposures)))
            .Disturbance("cloud", 1 / (60 * Step), factor: 0.955, clearedBy: ClearedBy.FixtureCheck).With(s => s with { Checks = s.Checks! with { Clean = true } }).Build();
        var found = ReadingToday.Of(cell, Target * 0.948, 0, 2, default);
        Assert.Equal("adjust and record", found.Verdict);
        Assert.Equal("a disturbance of the transmission", found.Causes[0].Name);
        Assert.True(found.EffectiveLifetimes >= 30);

        // 8.8 % lies 3.6 of the widest kernels off (1 %): weight 0.0015, for less than a tenth of the clouds.
        Assert.Equal(1.0, found.Causes[0].Chance.Get(), 1e-3);

        // The same inside the limit: of readings 4.7 % low fouling alone makes nearly all, the cloud a few.
        var inside = ReadingToday.Of(cell, Target * 0.953, 0, 2, default);
        Assert.Equal("adjust", inside.Verdict);
        Assert.Equal("fouling", inside.Causes[0].Name);
    }
}
