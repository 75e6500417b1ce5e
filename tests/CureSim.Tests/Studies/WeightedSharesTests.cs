using CureSim.Core.Statistics;
using CureSim.Studies.Runs;

namespace CureSim.Tests.Studies;

/// <summary>Shares and quantiles of weighted observations.</summary>
public class WeightedSharesTests
{
    [Theory]
    [InlineData(0, 40)]
    [InlineData(3, 40)]
    [InlineData(40, 40)]
    public void EqualWeightsOfIndependentUnits_GiveTheExactInterval(int seen, int trials)
    {
        var share = new WeightedShares([.. Enumerable.Range(0, trials)], [.. Enumerable.Repeat(0.25, trials)]).Share(i => i < seen);
        var exact = BinomialInterval.ClopperPearson(seen, trials);
        Assert.Equal((double)seen / trials, share.Value!.Value, 12);
        Assert.Equal(exact.Lower!.Value, share.Lower95!.Value, 9);
        Assert.Equal(exact.Upper!.Value, share.Upper95!.Value, 9);
    }

    [Fact]
    public void ObservationsOfOneUnit_CountOnce()
    {
        // Ten units of four equal observations each are ten trials, not forty.
        int[] unit = [.. Enumerable.Range(0, 40).Select(i => i / 4)];
        var shares = new WeightedShares(unit, [.. Enumerable.Repeat(1.0, 40)]);
        Assert.Equal(10.0, shares.Effective, 9);
        Assert.Equal(BinomialInterval.ClopperPearson(3, 10).Upper!.Value, shares.Share(i => unit[i] < 3).Upper95!.Value, 9);
    }

    [Fact]
    public void StandardError_IsThatOfARatioOfSums()
    {
        // By hand: weights 1, 2, 3; holds in the second: p = 1/3, residuals −1/3, 4/3, −1; error √(1/9 + 16/9 + 1)/6.
        var share = new WeightedShares([0, 1, 2], [1.0, 2.0, 3.0]).Share(i => i == 1);
        Assert.Equal(1.0 / 3.0, share.Value!.Value, 12);
        Assert.Equal(Math.Sqrt((1.0 / 9.0) + (16.0 / 9.0) + 1.0) / 6.0, share.StandardError!.Value, 12);
    }

    [Fact]
    public void Quantile_HasTheOrderStatisticsOfItsShare()
    {
        // 100 equal observations 1 … 100: the median is 50; the share below it has Clopper–Pearson limits 0.3983 and 0.6017, so its interval is 40 to 61.
        var q = new WeightedShares([.. Enumerable.Range(0, 100)], [.. Enumerable.Repeat(0.01, 100)]).Quantiles([.. Enumerable.Range(1, 100).Select(i => (double)i)], _ => true, [0.5], "beyond")[0];
        var exact = BinomialInterval.ClopperPearson(50, 100);
        Assert.Equal(50.0, q.Value!.Value);
        Assert.Equal((Math.Ceiling(100.0 * exact.Lower!.Value), Math.Ceiling(100.0 * exact.Upper!.Value)), (q.Lower95!.Value, q.Upper95!.Value));
    }

    [Fact]
    public void SharesNextToNothing_HaveAnInterval()
    {
        double[] weight = [.. Enumerable.Range(0, 200).Select(i => i == 0 ? 1e-12 : 1.0)];
        var share = new WeightedShares([.. Enumerable.Range(0, 200)], weight).Share(i => i == 0);
        Assert.Equal(0.0, share.Lower95!.Value);
        Assert.InRange(share.Upper95!.Value, 0.005, 0.03);
    }

    [Fact]
    public void NothingAlike_IsWithheld() => Assert.NotNull(new WeightedShares([0, 1], [0.0, 0.0]).Share(_ => true).Withheld);
}
