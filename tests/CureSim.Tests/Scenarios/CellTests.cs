using CureSim.Core.Cell;
using CureSim.Core.Statistics;
using CureSim.Core.Distributions;
using CureSim.Scenarios;

namespace CureSim.Tests.Scenarios;

/// <summary>That each key arrives in its place of the cell, in SI units, at its level. Tolerances are relative 1e-12 or less: a few roundings of the conversion.</summary>
public class CellTests
{
    private static readonly Scenario Cell = ScenarioFiles.Good(ScenarioReader.Read(Path.Combine(ScenarioFiles.Data, "every-key.yaml"))).Cell!;

    [Fact]
    public void Production_Arrives() =>
        Assert.Equal(new Production(200.0 / 3600, 14400, 1000, 28800, 57600, 288000, 14400000, 4, 2), Cell.Production with { PartsPerSecond = 200.0 / 3600 });

    [Fact]
    public void Source_Arrives()
    {
        Source s = Cell.Source;
        Assert.Equal(("own", EmitterArrangement.Shared, LitDuring.WholeShift, 3600.0, 0.5, 4), (s.Kind, s.Arrangement, s.Lit, s.IgnitionSeconds, s.IgnitionsPerShift, s.StatedLegs));
        Assert.Equal(64000, s.Irradiance.Mean, 1e-7);
        Assert.Equal((0.0, 0.05, 1.0, 2400.0 * 3600), (s.DriveStep, s.DriveMinimum, s.Drive, s.ReplaceAtBurnSeconds!.Value));
        Assert.Equal(360000, s.FailureBurn!.Varies.Minimum);
        Assert.False(s.Wander!.SeenBySensor);
        Assert.Equal(288000, s.Wander.Time.Mean);
        Assert.Equal(0.015, s.Wander.LogSpread.Mean, 1e-15);
        Assert.Equal(0.01 / 3.6e6, s.BandAgeing.Mean, 1e-22);
    }

    [Fact]
    public void Loop_Arrives()
    {
        Assert.Equal((LoopKind.OutputSensor, false), (Cell.Loop.Kind, Cell.Loop.Alarm));
        Assert.Equal(0.01, Cell.Loop.Ripple.Varies.Maximum);
        Assert.Equal(0.01 / 3 / 14400000, Cell.Loop.SensorDrift.Mean, 1e-24);
    }

    [Fact]
    public void Guide_And_Tip_Arrive()
    {
        Guide g = Cell.Guide!;
        Assert.Equal((LitDuring.WholeShift, 4000.0 * 3600), (g.Lit, g.ReplaceAtLitSeconds!.Value));
        Assert.Equal(0.02, g.Transmission.Varies.StandardDeviation);
        Assert.Equal(0.04, g.Imbalance.Varies.StandardDeviation);
        Assert.Equal(-0.01, g.Reseat.Mean);
        Assert.Equal(0.03 / 3.6e6, g.Loss.Mean, 1e-22);
        Assert.NotNull(Cell.Tip.Fouling.Unknown);
        Assert.Equal(0.9, Cell.Tip.CleaningEffect.Mean, 1e-12);
    }

    [Fact]
    public void Fixture_Arrives()
    {
        Fixture f = Cell.Fixture;
        Assert.Equal((0.010, 0.012, 0.0005, false), (f.NominalDistanceMetres, f.ReferenceDistanceMetres, f.BondRadiusMetres, f.JudgeAtWorstPoint));
        Assert.Equal(new GaussianBeam(0.004, 2), f.Beam);
        var table = Assert.IsType<TableSpread>(f.Spread);
        Assert.Equal([0.005, 0.010, 0.020], table.DistanceMetres.ToArray());
        Assert.Equal([1.6, 1.0, 0.45], table.Relative.ToArray());
        Assert.Equal(Math.PI / 180, f.Tilt.Varies.StandardDeviation, 1e-15);
    }

    [Theory]
    [InlineData("{ cone: { radius: 2.5 mm, half_angle: 30 deg } }", "ConeMeanSpread { FaceRadiusMetres = 0.0025, HalfAngleRadians = 0.5235987755982988 }")]
    [InlineData("{ cone_axis: { radius: 2.5 mm, half_angle: 30 deg } }", "ConeAxisSpread { FaceRadiusMetres = 0.0025, HalfAngleRadians = 0.5235987755982988 }")]
    [InlineData("{ inverse_square: { virtual_distance: 8 mm } }", "InverseSquareSpread { VirtualDistanceMetres = 0.008 }")]
    [InlineData("{ focused: { focus: 12 mm, range: 4 mm } }", "FocusedSpread { FocusMetres = 0.012, RangeMetres = 0.004 }")]
    [InlineData("none", "NoSpread { }")]
    public void Spread_Arrives(string law, string expected) =>
        Assert.Equal(expected, ScenarioFiles.Cell("fixture={ distance: { nominal: 10 mm }, spread: " + law + " }").Fixture.Spread.ToString());

    [Theory]
    [InlineData("{ super_gaussian: { radius: 4 mm, order: 6 } }", "GaussianBeam { RadiusMetres = 0.004, Order = 6 }")]
    [InlineData("flat", "FlatBeam { }")]
    public void Beam_Arrives(string profile, string expected) =>
        Assert.Equal(expected, ScenarioFiles.Cell("fixture={ distance: { nominal: 10 mm }, spread: none, beam: " + profile + " }").Fixture.Beam.ToString());

    [Fact]
    public void Disturbance_Arrives()
    {
        Disturbance d = Cell.Disturbances.Single();
        Assert.Equal(("bracket slips", "disturbances.bracket slips", true, ClearedBy.BadIndication), (d.Name, d.Path, d.WholeCell, d.ClearedBy));
        Assert.Equal((0.01, 0.02, 0.03), (d.ByCheck, d.ByCleaning, d.ByReplacement));
        Assert.Equal(0.5 / (2000 * 3600), d.Rate.Mean, 1e-20);
        Assert.Equal([0.8, 0.9], ((DiscreteDistribution)d.Factor!.Varies).Values);
        Assert.Equal((0.0005, 0.0002), (d.DistanceShift!.Mean, d.AimShift!.Mean));
        Assert.True(d.MovesFixture);
    }

    [Fact]
    public void Bond_Arrives()
    {
        Substrate s = Cell.Substrate!;
        Assert.Equal(10 * 2, s.LotSteps);
        Assert.Equal(250, s.Absorption.Mean, 1e-12);

        // R = ((1.58 − 1)/(1.58 + 1))² = 0.050538 (recomputed).
        Assert.Equal(0.050538, s.Reflectance, 5e-7);
        Assert.Equal((3.0, 0.0), (Cell.Exposure.SettingSeconds, Cell.Exposure.Error.Mean));
        Assert.Equal(0.002, Cell.Exposure.Offset.Unknown!.StandardDeviation);
        Cure c = Cell.Cure!;
        Assert.Equal((0.95, 2000.0, 40), (c.Maximum, c.InductionDose.Mean, c.LotSteps));
        Assert.Equal(0.9, c.RateLot.Varies.Quantile(0.5), 1e-12);
        Assert.Equal(0.03, c.RatePart.Varies.StandardDeviation);
        Assert.Equal(0.75, c.Exponent.Mean, 1e-12);
    }

    [Fact]
    public void Checks_Arrive() => Assert.Equal(
        new Core.Cell.Checks(
            IntervalSteps: 83, TargetWattsPerSquareMetre: 32000, AdjustLimit: 0.02, ActionLimit: 0.06, ToleranceLimit: null, ToleranceGuardFactor: 1,
            MeasuredAt.BondFixture, LegIndication.Weakest, Clean: true, FixtureCheck: false, WhenShort.LargerLoss, Tries: 3, LegLimit: 0.15,
            MissedProbability: 0.02, LateProbability: 0.05, LateSteps: 2)
        {
            // A week is 80 h and 500 h are 125 steps of 4 h.
            AfterReplacement = new(20, 125), WhenDriveAbove = 0.9, WhenAlarm = false,
        },
        Cell.Checks);

    [Fact]
    public void IntervalStudy_Arrives()
    {
        IntervalStudy study = Cell.IntervalStudy!;
        Assert.Equal((0.9, 250e-6), (study.ReliabilityTarget, study.NonconformingLimit!.Value));
        Assert.Equal(new[] { 0.0, 0.02, 0.04 }, study.AdjustLimits.ToArray());
        Assert.Equal(new[] { 0.04, 0.08 }, study.ActionLimits.ToArray());

        // A month is 4000 h / 12 = 333.3 h, 83 steps of 4 h; a quarter 1000 h.
        Assert.Equal([("1 week", 20), ("1 month", 83), ("400 h", 100)], study.Candidates.Take(3).Select(c => (c.Name, c.IntervalSteps)));
        Assert.Equal(new CheckTiming("1 quarter, 80 h while new (500 h)", 250, new(20, 125), null, false), study.Candidates[3]);
        Assert.Equal(new CheckTiming("by drive", 250, null, 0.85, false), study.Candidates[4]);
        Assert.Equal([true, true, true, false, false], study.Candidates.Select(c => c.IsPlain));
    }

    [Fact]
    public void Costs_Arrive()
    {
        Costs c = Cell.Costs!;
        Assert.Equal("EUR", c.Currency);
        Quantity[] all =
        [
            c.Check, c.LostHour, c.SuspectPart, c.NonconformingPart, c.Emitter, c.Guide, c.Requalification, c.Calibration, c.Purchase, c.PurchasePerEmitter, c.ChangeControl, c.FirstQualification,
            c.RadiometerPurchase, c.KilowattHour, c.Disposal, c.ExposureSecond, c.BridgingStock, c.DelayWeek, c.ForcedChange, c.ResidualValue,
        ];
        double[] expected = [40, 300, 0.5, 20, 900, 400, 8000, 450, 9000, 100, 10000, 20000, 2000, 0.2, 15, 0.01, 500, 200, 60000, 1000];
        Assert.Equal(expected, all.Select(q => q.Mean), (a, b) => Math.Abs(a - b) < 1e-9);
        Assert.Equal(all.Length, all.Select(q => q.Path).Distinct().Count());
        Assert.Equal(Level.Cell, c.Purchase.Level);
        Assert.True(c.ChangeControl.IsVarying);
        Assert.NotNull(c.KilowattHour.Unknown);
    }

    [Fact]
    public void Ownership_Arrives()
    {
        Ownership o = Cell.Ownership!;
        Assert.Equal(("every key", true, FlowTiming.Middle, MoneyTerms.Real, true), (o.Label, o.Installed, o.Discounting, o.Money, o.HoldsMercury));
        Assert.Equal((0.08, 0.02, 0.03), (o.DiscountRate.Mean, o.PriceGrowth.Mean, Math.Round(o.EnergyPriceGrowth.Mean, 12)));
        Assert.Equal((1500.0, 20.0, 600.0, 0.5, 3.5), (o.LitWatts, o.StandbyWatts, o.WarmUpSeconds, o.CooledShare, o.CoolingPerformance));
        Assert.Equal((0.38, 2023, 100e-6), (o.EmissionKilograms!.Value, o.EmissionYear!.Value, o.NonconformingLimit!.Value));

        // A year of this cell is 50 weeks of 5 days of 16 h.
        Assert.Equal((2000 * 3600.0, 0.2, 80 * 3600.0, 4000 * 3600.0), (o.Project!.Duration.Mean, o.Project.FailureProbability, o.Project.RepeatDuration.Mean, o.SupplyEnds!.Mean));
    }

    [Fact]
    public void Radiometer_And_Downtime_Arrive()
    {
        Radiometer r = Cell.Radiometer;
        Assert.Equal((0.3, 500, 100.0, 1000), (r.Persistence, r.CalibrationSteps, r.ResolutionWattsPerSquareMetre, r.NewMeterSteps));
        Assert.Equal(
            [Level.Meter, Level.Calibration, Level.Calibration, Level.Shift, Level.Reading],
            new[] { r.Meter, r.Calibration, r.Drift, r.Session, r.Repeatability }.Select(q => q.Level));
        Assert.Equal(new Downtimes(1200, 2700, 1800, 10800, 36000), Cell.Downtimes);
    }

    [Fact]
    public void Window_And_Requalification_Arrive()
    {
        Assert.True(Cell.Window.InStudyMeterUnits);
        Assert.Equal(
            [new(Response.Irradiance, 10000, 20000, 40000), new(Response.Dose, 30000, null, 120000), new(Response.DegreeOfCure, 0.7, null, null)],
            Cell.Window.Limits.ToArray());
        Assert.Equal([RequalifyEvent.EmitterReplaced, RequalifyEvent.StateLeft], Cell.Requalification.On.ToArray());
        Assert.Equal((true, 1.0), (Cell.Requalification.RecordOnly, Cell.Requalification.RequiredCapability!.Value));
    }

    [Fact]
    public void PresentState_And_Run_Arrive()
    {
        PresentState now = Cell.Now!;
        Assert.Equal([500.0 * 3600], now.EmitterBurnSeconds!.Value.ToArray());
        Assert.Equal([300.0 * 3600], now.GuideLitSeconds!.Value.ToArray());
        Assert.Equal([0.6], now.Drive!.Value.ToArray());
        Assert.Equal([1.03, 0.97, 1.01, 0.99], now.LegShares!.Value.ToArray());
        Assert.Equal([100.0, 200, 300, 400], now.ExposuresSinceCleaning!.Value.ToArray());
        Assert.Equal([31000.0, 31000, 31000, 31000], now.LastAsLeftWattsPerSquareMetre!.Value.ToArray());
        Assert.Equal(new RunSettings(3, 10, 2, ulong.MaxValue) { Sampling = Sampling.Stratified }, Cell.Run);
    }

    [Fact]
    public void Levels_AreThoseOfTheFormat()
    {
        foreach (Quantity q in Unknowns.Quantities(Cell))
        {
            Level expected = q.Path switch
            {
                "loop.sensor_drift" => Level.Cell,
                "loop.ripple" or "exposure.error" or "cure.rate.part" or "substrate.thickness" or "fixture.tilt" or "fixture.aim.part" or "fixture.distance.part" => Level.Part,
                "guide.reseat" or "fixture.aim.setup" or "fixture.distance.setup" => Level.Setup,
                "substrate.absorption" => Level.SubstrateLot,
                "cure.rate.lot" => Level.AdhesiveLot,
                "cure.exponent" or "cure.induction_dose" or "exposure.offset" or "disturbances.bracket slips.rate" => Level.World,
                _ when q.Path.StartsWith("disturbances.", StringComparison.Ordinal) => Level.Arrival,
                _ when q.Path.StartsWith("source.", StringComparison.Ordinal) => Level.Emitter,
                _ when q.Path.StartsWith("guide.", StringComparison.Ordinal) => Level.Guide,
                _ when q.Path.StartsWith("tip.", StringComparison.Ordinal) => Level.Cleaning,
                _ => q.Level,
            };
            Assert.True(expected == q.Level, $"{q.Path} is at level {q.Level}");
        }
    }

    [Fact]
    public void Every_VaryingInput_IsAQuantityOfTheSamePath()
    {
        ScenarioReading reading = ScenarioReader.Read(Path.Combine(ScenarioFiles.Data, "every-key.yaml"));
        string[] paths = [.. Unknowns.Quantities(reading.Cell!).Select(q => q.Path)];
        Assert.Empty(reading.Inputs.Where(i => i.Level is not null && i.Text != "none").Select(i => i.Path).Except(paths));
        Assert.Equal(paths.Length, paths.Distinct().Count());
    }
}
