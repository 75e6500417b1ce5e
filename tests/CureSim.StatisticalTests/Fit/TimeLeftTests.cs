namespace CureSim.StatisticalTests.Fit;

/// <summary>Forecasts of 300 held-back lifetimes against 2000 others, after 500 h of readings.</summary>
/// <remarks>Of 300 true 80 % intervals 75 to 85 % hold with probability 0.97 (standard error 2.3 %); the seeds are fixed.</remarks>
public class TimeLeftTests
{
    [Fact]
    public void After500Hours_TheIntervalIsCalibrated_AndSharperThanTheFleets()
    {
        var row = Assert.Single(TimeLeftStudy.Of([500.0]));
        Assert.True(row.Cells > 0.95 * TimeLeftStudy.HeldBack, row.ToString());
        Assert.InRange(100.0 * row.Held / row.Cells, 75.0, 85.0);
        Assert.True(row.Width < 0.85 * row.FleetWidth, row.ToString());

        // A contradiction is called for at most a few in a hundred cells that the scenario itself made.
        Assert.True(row.Contradicted <= 0.03 * row.Cells, row.ToString());
    }

    [Fact]
    public void OriginOfAnExcursion_IsCalibrated()
    {
        var cases = TimeLeftStudy.Excursions("running-cell.yaml", [], TimeLeftStudy.Reference, TimeLeftStudy.HeldBack);
        var calibration = ExcursionCalibration.Of(cases);
        Assert.True(calibration.Cases >= 150, calibration.ToString());
        calibration.AssertCalibrated();

        // A check that can fail: half the chances that it had begun since the check before would not pass.
        Assert.True(0.5 * calibration.Since.Expected > 3.0 * calibration.Since.Error, calibration.ToString());
    }

    [Fact]
    public void Calibration_OfCausesThatAreSwapped_IsRefused()
    {
        var cases = TimeLeftStudy.Excursions("running-cell.yaml", [], TimeLeftStudy.Reference, TimeLeftStudy.HeldBack);
        ExcursionCase[] swapped = [.. cases.Select(c => c with { Cause = 5 - c.Cause })], halved = [.. cases.Select(c => c with { BeganHoursAgo = c.BeganHoursAgo * 3.0 })];
        Assert.ThrowsAny<Xunit.Sdk.XunitException>(() => ExcursionCalibration.Of(swapped).AssertCalibrated());
        Assert.ThrowsAny<Xunit.Sdk.XunitException>(() => ExcursionCalibration.Of(halved).AssertCalibrated());
    }
}
