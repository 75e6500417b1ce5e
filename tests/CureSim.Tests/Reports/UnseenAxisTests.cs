using CureSim.Reports.Interval;

namespace CureSim.Tests.Reports;

/// <summary>Where the axis of unseen hours ends.</summary>
public class UnseenAxisTests
{
    private static readonly double[] Shares = [.. Enumerable.Range(0, 200).Select(i => i / 200.0)];

    private static double[] Even(double from, double to) => [.. Enumerable.Range(0, 101).Select(i => from + ((to - from) * i / 100.0))];

    [Fact]
    public void TheLongestLineMayLeaveTheFigure() =>
        // By hand: 95 % of 0 … 100 is 95, a quarter more 118.75.
        Assert.Equal(118.75, IntervalPlots.UnseenEnd([Even(0, 100), Even(0, 1000)], Shares), 9);

    [Fact]
    public void NoLineIsLeftWithoutTwoPoints()
    {
        // Every cell of the longer interval runs unseen for longer than the axis would hold: it holds all.
        Assert.Equal(0.0, IntervalPlots.UnseenEnd([Even(0, 100), Even(500, 1000)], Shares));
        Assert.Equal(0.0, IntervalPlots.UnseenEnd([Even(0, 0), Even(2, 3)], Shares));
    }
}
