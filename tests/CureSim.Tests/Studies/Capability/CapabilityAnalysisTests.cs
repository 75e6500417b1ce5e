using CureSim.Core.Statistics;
using CureSim.Studies.Capability;

namespace CureSim.Tests.Studies.Capability;

/// <summary>Which figure judges, what is withheld and why.</summary>
public class CapabilityAnalysisTests
{
    // Quantiles at (i − ½)/n: a sample as normal as its size allows, so that no test refuses it.
    private static double[] Normal(int n, double mean, double deviation) =>
        [.. Enumerable.Range(1, n).Select(i => mean + (deviation * NormalLaw.Quantile((i - 0.5) / n)))];

    [Fact]
    public void Of_HandbookExample_GivesItsIndices()
    {
        // NIST/SEMATECH e-Handbook 6.1.6: limits 8 and 20, mean 16, standard deviation 2: Cp 1.0, Cpk 0.6667 (row CAP-01). Three values have these moments.
        var found = Judge([14.0, 16.0, 18.0], new(8.0, 20.0));
        Assert.Equal(1.0, found.Overall.Pp.Value!.Value, 1e-12);
        Assert.Equal(2.0 / 3.0, found.Overall.Ppk.Value!.Value, 1e-12);
        Assert.Null(found.Groups);
    }

    [Fact]
    public void Of_FewerThanEightValues_WithholdsTheFittedFraction()
    {
        var found = Judge([14.0, 15.0, 16.0, 17.0, 18.0, 16.5], new(8.0, 20.0));
        Assert.Null(found.Normality.Refused);
        Assert.Equal(JudgingIndex.Moments, found.Use);
        Assert.Contains("at least 8 values", found.Outside.Fitted.Withheld, StringComparison.Ordinal);
    }

    [Fact]
    public void Of_LognormalSample_UsesThePowerAndRefusesTheNormalTail()
    {
        double[] values = [.. Normal(200, 0.0, 0.6).Select(x => Math.Exp(x))];
        var found = Judge(values, new(0.1, 12.0));
        Assert.True(found.Normality.Refused);
        Assert.Equal(JudgingIndex.PowerTransform, found.Use);
        Assert.NotNull(found.Outside.Fitted.Withheld);

        // The logarithm is the power 0, and the index is the one of the logarithms against the logarithms of the limits.
        var logs = SampleMoments.Of([.. values.Select(x => Math.Log(x))]);
        double expected = MomentCapability.Of(logs.Mean, logs.StandardDeviation!.Value, new(Math.Log(0.1), Math.Log(12.0))).Cpk!.Value;
        Assert.Equal(0.0, found.Power.Lambda.Value!.Value, 1e-6); // symmetric logarithms have λ = 0 but for the search
        Assert.Equal(expected, found.Power.Ppk.Value!.Value, 1e-5);
    }

    [Fact]
    public void Of_LargeLognormalSample_UsesPercentilesOfTheLaw()
    {
        double[] values = [.. Normal(20_000, 0.0, 0.5).Select(x => Math.Exp(x))];
        var found = Judge(values, new(0.1, 9.0));
        Assert.Equal(JudgingIndex.Percentiles, found.Use);
        double median = 1.0, low = Math.Exp(0.5 * NormalLaw.Quantile(0.00135)), high = Math.Exp(0.5 * NormalLaw.Quantile(0.99865));
        double expected = Math.Min((median - 0.1) / (median - low), (9.0 - median) / (high - median));
        Assert.Equal(expected, found.Percentiles.Ppk.Value!.Value, 0.002); // the sample's quantiles lie within one spacing (0.6 % of a tail spacing) of the law's
        Assert.True(found.Percentiles.Ppk.Lower95 < expected && expected < found.Percentiles.Ppk.Upper95);
    }

    [Fact]
    public void Of_TwoSeparateLots_WithholdsEveryIndex()
    {
        var found = Judge([.. Normal(60, 5.0, 0.2), .. Normal(60, 8.0, 0.2)], new(4.0, 9.0), required: 1.0);
        Assert.Equal(JudgingIndex.None, found.Use);
        Assert.False(found.Requirement!.IsShown);
        Assert.NotNull(found.Requirement.Withheld);
    }

    [Theory]
    [InlineData(2730, false)]
    [InlineData(2731, true)]
    public void PercentileIndex_NeedsAsManyValuesAsBoundItsQuantiles(int count, bool given)
    {
        // 1 − 0.99865^n ≥ 0.975 first at n = 2731: ln 0.025/ln 0.99865 = 2730.6 (recomputed).
        var found = Judge(Normal(count, 7.0, 0.5), new(5.0, 11.0));
        Assert.Equal(given, found.Percentiles.Ppk.Value is not null);
        Assert.Equal(given, found.Percentiles.Low.Withheld is null);
    }

    [Fact]
    public void Requirement_EnoughParts_IsTheSmallestNumber()
    {
        var limits = new LimitPair(5.0, null);
        var found = Judge(Normal(30, 7.0, 0.45), limits, required: 1.33).Requirement!;
        Assert.False(found.IsShown);
        int n = (int)found.EnoughParts!.Value;
        Assert.True(CapabilityInterval.OneSidedLower(found.Observed!.Value, n).Lower >= 1.33);
        Assert.True(CapabilityInterval.OneSidedLower(found.Observed.Value, n - 1).Lower < 1.33);

        // Row CAP-REQ-30-1.0: with 30 parts and one limit 1.302855717 must be seen to show 1.0.
        double deviation = Judge(Normal(30, 0.0, 1.0), new(-9.0, null)).Moments.StandardDeviation!.Value;
        bool Shown(double index) => Judge(Normal(30, 0.0, 1.0), new(-3.0 * index * deviation, null), required: 1.0).Requirement!.IsShown;
        Assert.True(Shown(1.302856));
        Assert.False(Shown(1.302855));
    }

    [Fact]
    public void Tolerance_ManyValues_TakesTheHighestOrderThatHolds()
    {
        // Row TOL-W1-95-95: orders 1 … 6 need 59, 93, 124, 153, 181, 208 values; row TOL-W2-95-99: 473, 773, 1049, 1312.
        Assert.Equal(3, Judge(Normal(152, 7.0, 0.5), new(5.0, null), reliability: 0.95).Tolerance.Wilks.Order);
        Assert.Equal(4, Judge(Normal(153, 7.0, 0.5), new(5.0, null), reliability: 0.95).Tolerance.Wilks.Order);
        Assert.Equal(1, Judge(Normal(473, 7.0, 0.5), new(5.0, 9.0)).Tolerance.Wilks.Order);
        Assert.Equal(2, Judge(Normal(773, 7.0, 0.5), new(5.0, 9.0)).Tolerance.Wilks.Order);
        Assert.Contains("473 are enough", Judge(Normal(472, 7.0, 0.5), new(5.0, 9.0)).Tolerance.Wilks.Withheld, StringComparison.Ordinal);
    }

    [Fact]
    public void Tolerance_OneLimit_BoundsThatSideOnly()
    {
        var found = Judge(Normal(50, 7.0, 0.5), new(null, 9.0)).Tolerance;
        Assert.Null(found.Normal.Lower);
        Assert.True(found.Normal.LiesWithin(new(null, 9.0)));
        Assert.False(found.Normal.LiesWithin(new(null, 8.0)));
    }

    [Fact]
    public void FittedFraction_UpperBound_CoversAtTheStatedRate()
    {
        // 400 samples of 20 from N(0, 1) with limits ±2.5: the true fraction is 2Φ(−2.5); 95 % bound, so at most 5 % of the samples may lie below it
        // (Bonferroni covers with more). Three standard errors of 400 trials at 5 % are 3.3 %.
        double truth = 2.0 * NormalLaw.Survival(2.5);
        int missed = 0;
        var stream = CureSim.Core.Random.StreamKey.Of(CureSim.Core.Random.DrawDomain.Reserved, "tests.fitted-fraction");
        for (uint sample = 0; sample < 400; sample++)
        {
            double[] x = [.. Enumerable.Range(0, 20).Select(i => NormalLaw.Quantile(CureSim.Core.Random.Draw.Uniform(7, 0, sample, stream, i)))];
            var moments = SampleMoments.Of(x);
            var indices = MomentCapability.Of(moments.Mean, moments.StandardDeviation!.Value, new(-2.5, 2.5));
            var accepted = new NormalityFinding(new NormalityTest(20, 0.1, 0.1, 0.9), new NormalityTest(20, 0.99, null, 0.9));
            missed += OutsideFinding.Of(x, indices, new(-2.5, 2.5), accepted, 0.95).Fitted.Upper < truth ? 1 : 0;
        }

        Assert.InRange(missed / 400.0, 0.0, 0.05 + 0.033);
        Assert.True(missed > 0, "a bound that is never missed would be far too wide");
    }

    [Fact]
    public void Groups_WithoutSpreadWithin_AreWithheldWithTheReason()
    {
        double[] values = [.. Normal(10, 7.0, 0.5)];
        CapabilityAnalysis Grouped(Func<int, string> group) =>
            CapabilityAnalysis.Of(new(values, [.. Enumerable.Range(0, 10).Select(group)]), new(new(5.0, 9.0), 0.95, 0.99, null, null));
        Assert.Contains("no group has two values", Grouped(i => $"{i}").Groups!.Withheld, StringComparison.Ordinal);
        Assert.Contains("of one group", Grouped(_ => "A").Groups!.Withheld, StringComparison.Ordinal);

        // Every other value of a sorted sample in each group: means alike, so nothing differs.
        var alike = Grouped(i => i % 2 == 0 ? "A" : "B").Groups!;
        Assert.False(alike.Differ);
        Assert.Equal(8, alike.Within.Count);
    }

    [Fact]
    public void Conformity_AbsoluteUncertainty_MovesBothLimitsByU()
    {
        // ISO 14253-1 (recalled from memory): acceptance limits lie U inside the specification limits.
        var found = Judge([5.1, 6.0, 7.0, 8.9], new(5.0, 9.0), uncertainty: new(0.2, false, 2.0)).Conformity!;
        Assert.Equal(5.2, found.Acceptance!.Lower!.Value, 1e-12);
        Assert.Equal(8.8, found.Acceptance.Upper!.Value, 1e-12);
        Assert.Equal(2, found.Accepted);
        Assert.Equal(2, found.InGuardBand);
        Assert.Equal(NormalLaw.Cdf(1.0), found.Readings[0].Conformance, 1e-12); // 0.1 from the limit with u = 0.1

        var wide = Judge([5.1, 6.0, 7.0, 8.9], new(5.0, 9.0), uncertainty: new(2.5, false, 2.0)).Conformity!;
        Assert.Null(wide.Acceptance);
        Assert.NotNull(wide.Withheld);
    }

    [Fact]
    public void Of_WhatCannotBeJudged_IsRefused()
    {
        Assert.Throws<ArgumentException>(() => Judge([7.0, 7.0], new(5.0, 9.0)));
        Assert.Throws<ArgumentException>(() => Judge([7.0], new(5.0, 9.0)));
        Assert.Throws<ArgumentException>(() => Judge([7.0, 8.0], new(null, null)));
        Assert.Throws<ArgumentException>(() => Judge([7.0, double.NaN], new(5.0, 9.0)));
        Assert.Throws<ArgumentException>(() => Judge([-1.0, 8.0], new(5.0, 9.0), uncertainty: new(0.04, true, 2.0)));
    }

    private static CapabilityAnalysis Judge(double[] values, LimitPair limits, double? required = null, double reliability = 0.99, ReadingUncertainty? uncertainty = null) =>
        CapabilityAnalysis.Of(new(values, []), new(limits, 0.95, reliability, required, uncertainty));
}
