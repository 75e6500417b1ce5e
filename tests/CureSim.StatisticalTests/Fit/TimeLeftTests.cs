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
        // As many began after the check before as the chances say: three standard errors of a sum of so many unlike coins. The beginning lies in the 90 % range in 90 %, three binomial errors.
        var row = TimeLeftStudy.Excursions(reference: 600, heldBack: 150);
        Assert.True(row.Told >= 30, row.ToString());
        double three = 3.0 * Math.Sqrt(row.Variance);
        Assert.True(Math.Abs(row.True - row.Expected) < three, row.ToString());
        Assert.True(Math.Abs((row.Held / (double)row.Out) - 0.9) < 3.0 * Math.Sqrt(0.09 / row.Out), row.ToString());

        // A check that can fail: half or twice the chances would not pass.
        Assert.True(0.5 * row.Expected > three, row.ToString());
    }
}
