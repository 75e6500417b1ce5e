using CureSim.Core.Distributions;
using CureSim.Core.Summaries;
using CureSim.Studies.Runs;

namespace CureSim.Tests.Studies;

/// <summary>The interval along the curve of the state index.</summary>
public sealed class StateIndexCurveTests
{
    // 2000 samples of 512 normal indices each: the 5th percentile of N(1.5, 0.1) is 1.5 − 1.6449·0.1 (any table of the normal distribution). A 95 % interval holds it in 95 % of samples;
    // the standard error of the share seen is 0.5 percentage points, so 93 to 97 % is four of them on each side. Slots are 0.005 wide or so, far below the interval's 0.04.
    [Theory]
    [InlineData(0.05, 1.5 - 0.164485)]
    [InlineData(0.50, 1.5)]
    public void Interval_OfAPercentile_HoldsItInNineteenOfTwentySamples(double p, double truth)
    {
        const int Samples = 2000, Size = 512;
        var normal = new NormalDistribution(1.5, 0.1);
        var random = new System.Random(20261);
        int held = 0;
        for (int s = 0; s < Samples; s++)
        {
            var estimate = StateIndexCurve.At(Slots(Size, () => normal.Quantile(random.NextDouble())), p, 1.0);
            held += estimate.Lower95 <= truth && truth <= estimate.Upper95 ? 1 : 0;
        }

        Assert.InRange(held / (double)Samples, 0.93, 0.97);
    }

    // Woodruff 1952 with the score interval of 5 % in 512: (0.0342, 0.0725) by Wilson's formula, worked by hand; carried to N(0, 1) quantiles −1.822 and −1.458 (SciPy 1.10.1, norm.ppf).
    [Fact]
    public void Interval_OfEvenlySpreadNormalScores_IsThatOfWilsonsProportions()
    {
        var normal = new NormalDistribution(0.0, 1.0);
        int i = 0;
        var estimate = StateIndexCurve.At(Slots(100_000, () => normal.Quantile((i++ + 0.5) / 100_000)), 0.05, 100_000 / 512.0);
        Assert.Equal(-1.822, estimate.Lower95!.Value, 0.01);
        Assert.Equal(-1.458, estimate.Upper95!.Value, 0.01);
    }

    [Fact]
    public void Interval_WithoutEnoughLifetimesOrEffect_IsNone()
    {
        int i = 0;
        int[] few = Slots(20, () => 1.0 + (0.01 * i++));
        Assert.True(StateIndexCurve.At(few, 0.05, 1.0) is { Value: not null, Lower95: null, Upper95: null });
        Assert.True(StateIndexCurve.At(few, 0.5, null) is { Value: not null, Lower95: null, Upper95: null });
        Assert.True(StateIndexCurve.At(new int[few.Length], 0.5, 1.0) is { Value: null, Withheld: not null });
    }

    private static int[] Slots(int size, Func<double> draw)
    {
        int[] slots = new int[SummaryLayout.IndexBins + 2];
        for (int i = 0; i < size; i++)
        {
            slots[SummaryLayout.IndexSlot(draw())]++;
        }

        return slots;
    }
}
