using CureSim.Core.Cell;
using CureSim.Scenarios;

namespace CureSim.Tests.Scenarios;

/// <summary>Typical values of the kinds: common practice, no source.</summary>
public class TypicalValueTests
{
    private static double Output(Scenario cell, double hours)
    {
        var law = (TwoStageAgeing)cell.Source.Ageing.Single().Law;
        double h = hours * 3600;
        return (law.EarlyPart.Mean * Math.Exp(-h / law.EarlyTime.Varies.Quantile(0.5))) + ((1 - law.EarlyPart.Mean) * Math.Exp(-h / law.LateTime.Varies.Quantile(0.5)));
    }

    [Theory]
    [InlineData(500, 0.80)]    // about 20 % lost in the first 500 h
    [InlineData(3000, 0.50)]   // half at 3000 h, when it is replaced
    public void ArcLamp_AtItsMedians_LosesAsLampsDo(double hours, double output)
    {
        // 1e-5: the parameters are written to six digits.
        Assert.Equal(output, Output(ScenarioFiles.Cell(), hours), 1e-5);
    }

    [Theory]
    [InlineData(500, 0.897931)]    // about 10 % lost in the first 500 h
    [InlineData(5000, 0.845194)]
    [InlineData(20000, 0.700000)]  // 70 % at 20 000 h
    public void Led_AtItsMedians_LosesAsHeadsDo(double hours, double output)
    {
        // 1e-6: the printed digits of the expected values (recomputed from the two-phase form).
        Assert.Equal(output, Output(ScenarioFiles.Cell("source.kind=LED"), hours), 1e-6);
    }

    [Fact]
    public void ArcLamp_IsSharedAndLitThroughTheShift()
    {
        Source source = ScenarioFiles.Cell().Source;
        Assert.Equal(EmitterArrangement.Shared, source.Arrangement);
        Assert.Equal(LitDuring.WholeShift, source.Lit);
        Assert.Equal(3000 * 3600, source.ReplaceAtBurnSeconds);
        Assert.Equal(0.01, source.DriveStep);
        Assert.NotNull(source.FailureBurn);
    }

    [Fact]
    public void Led_IsOneASiteAndLitDuringExposures()
    {
        Source source = ScenarioFiles.Cell("source.kind=LED").Source;
        Assert.Equal(EmitterArrangement.OnePerSite, source.Arrangement);
        Assert.Equal(LitDuring.Exposures, source.Lit);
        Assert.Null(source.FailureBurn);
    }

    [Fact]
    public void Typical_Values_AreMarkedAndListed()
    {
        ScenarioReading reading = ScenarioFiles.Good(ScenarioReader.ReadText(ScenarioFiles.Smallest, "test.yaml"));
        Origin Of(string path) => reading.Inputs.Single(i => i.Path == path).Origin;
        Assert.Equal(Origin.Typical, Of("source.ageing.two_stage.late_time"));
        Assert.Equal(Origin.Yours, Of("source.irradiance"));
        Assert.Equal(Origin.Default, Of("source.band_ageing"));
    }

    [Fact]
    public void Block_LeftOut_IsNotModelled_AndWrittenEmpty_IsTypical()
    {
        Assert.Null(ScenarioFiles.Cell().Guide);
        Assert.True(ScenarioFiles.Cell().Tip.Fouling.IsFixed);
        Assert.True(ScenarioFiles.Cell("guide={}").Guide!.Loss.IsVarying);
        Assert.True(ScenarioFiles.Cell("tip={}").Tip.Fouling.IsVarying);
    }

    [Fact]
    public void Radiometer_IsTypicalWhenThereAreChecks_AndFreeOfErrorWhenThereAreNone()
    {
        Assert.True(ScenarioFiles.Cell().Radiometer.Calibration.IsFixed);
        Assert.True(ScenarioFiles.Cell("checks={ interval: 1 week, target: 3 W/cm2 }").Radiometer.Calibration.IsVarying);
    }

    [Fact]
    public void CheckLimits_DefaultToTheActionLimit()
    {
        Core.Cell.Checks checks = ScenarioFiles.Cell("checks={ interval: 1 week, target: 3 W/cm2, action: 6 % }").Checks!;
        Assert.Equal(0.03, checks.AdjustLimit);
        Assert.Equal(0.06, checks.ToleranceLimit);
    }

    [Fact]
    public void Tolerance_FromWindow_IsNoNumber()
    {
        Assert.Null(ScenarioFiles.Cell("checks={ interval: 1 week, target: 3 W/cm2, tolerance: from window }").Checks!.ToleranceLimit);
    }

    [Fact]
    public void Run_HasOneWorldUnlessSomethingIsUnknown()
    {
        Assert.Equal(1, ScenarioFiles.Cell().Run.Worlds);
        Assert.Equal(20, ScenarioFiles.Cell("radiometer={ meter: { unknown: 4 % } }").Run.Worlds);
    }
}
