using CureSim.Core.Cell;
using CureSim.Scenarios;

namespace CureSim.Tests.Scenarios;

/// <summary>Calendar words on the production clock: hours a day, days a week, weeks a year; a month is a twelfth of the year.</summary>
public class CalendarTests
{
    [Fact]
    public void Production_CountsScheduledHours()
    {
        Production p = ScenarioFiles.Cell("production.hours_a_day=15", "production.shift=7.5 h", "production.weeks_a_year=48", "production.horizon=5 yr").Production;
        Assert.Equal(15 * 3600, p.DaySeconds);
        Assert.Equal(5 * 15 * 3600, p.WeekSeconds);
        Assert.Equal(48 * 5 * 15 * 3600, p.YearSeconds);
        Assert.Equal(27000, p.StepSeconds);
        Assert.Equal(5 * 48 * 5 * 2, p.StepCount);
    }

    [Theory]
    [InlineData("1 shift", 1)]
    [InlineData("1 day", 2)]
    [InlineData("1 week", 10)]
    [InlineData("1 month", 42)]      // 4000/12 h = 41.67 shifts of 8 h
    [InlineData("quarter", 125)]
    [InlineData("1 yr", 500)]
    [InlineData("0.1 day", 1)]       // rounds to none, at least one
    [InlineData("80 h", 10)]
    public void Interval_IsWholeSteps(string interval, int steps)
    {
        Assert.Equal(steps, ScenarioFiles.Cell("checks={ interval: " + interval + ", target: 3 W/cm2 }").Checks!.IntervalSteps);
    }

    [Fact]
    public void Interval_ThatWasRounded_SaysSo()
    {
        ScenarioReading reading = ScenarioReader.ReadText(ScenarioFiles.Smallest, "test.yaml", ["checks={ interval: 1 month, target: 3 W/cm2 }"]);
        Assert.Equal("1 month (= 42 steps, 336 h, rounded from 333.3333 h)", reading.Inputs.Single(i => i.Path == "checks.interval").Text);
    }

    [Fact]
    public void Drift_ByTheYear_IsByTheProductionYear()
    {
        Scenario cell = ScenarioFiles.Cell("radiometer={ drift: 1 %/yr }", "production.weeks_a_year=40");

        // 40 weeks of 80 h: 3200 h in a year. 1e-15: two roundings.
        Assert.Equal(0.01 / (3200 * 3600.0), cell.Radiometer.Drift.Mean, 0.01 / (3200 * 3600.0) * 1e-15);
        Assert.True(cell.Radiometer.Drift.IsFixed);
    }
}
