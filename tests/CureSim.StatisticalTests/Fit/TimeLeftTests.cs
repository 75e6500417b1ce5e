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
}
