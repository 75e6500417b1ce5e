using CureSim.Core.Random;
using CureSim.Core.Statistics;

namespace CureSim.Tests.Statistics;

/// <summary>Estimates, proportions, tolerance factors, batches and bands.</summary>
public class IntervalTests
{
    private static readonly StreamKey Stream = StreamKey.Of(DrawDomain.Reserved, "test.interval");

    [Fact]
    public void An_estimate_is_a_number_or_a_reason()
    {
        Estimate e = Estimate.Of(10, 2, 50);
        Assert.Equal(10 - (2 * 1.9599639845400542), e.Lower95!.Value, 1e-14);
        Assert.Equal(50, e.Count);
        Assert.Equal("10 [6.08007, 13.9199]", e.ToString());
        Assert.Throws<ArgumentOutOfRangeException>(() => Estimate.Of(double.NaN, 1));
        Assert.Throws<ArgumentOutOfRangeException>(() => Estimate.Of(1, double.NaN));
        Assert.Throws<ArgumentOutOfRangeException>(() => Estimate.Of(1, -1));
        Assert.Throws<ArgumentOutOfRangeException>(() => Estimate.Bounded(1, null, double.NegativeInfinity, null));
        Assert.Throws<ArgumentException>(() => Estimate.Withhold(" "));
        Estimate none = Estimate.Withhold("too few cells", 3);
        Assert.Null(none.Value);
        Assert.Equal("withheld: too few cells", none.ToString());
        Assert.Contains("too few cells", Assert.Throws<InvalidOperationException>(() => none.Get()).Message);
        Assert.Equal(Estimate.Of(20, 4, 50), e.Scale(2));
    }

    [Fact]
    public void Exact_interval_covers_at_least_its_confidence_everywhere()
    {
        // Coverage by enumeration of all outcomes of n = 20: never below 95 % (Clopper–Pearson), and for the score interval 95 % on average.
        const int N = 20;
        ConfidenceInterval[] exact = [.. Enumerable.Range(0, N + 1).Select(x => BinomialInterval.ClopperPearson(x, N))];
        ConfidenceInterval[] score = [.. Enumerable.Range(0, N + 1).Select(x => BinomialInterval.Wilson(x, N))];
        double average = 0.0;
        for (int i = 1; i < 200; i++)
        {
            double p = i / 200.0;
            double Mass(int x) => BetaLaw.BinomialCdf(x, N, p) - BetaLaw.BinomialCdf(x - 1, N, p);
            double Cover(ConfidenceInterval[] set) => Enumerable.Range(0, N + 1).Where(x => set[x].Lower <= p && p <= set[x].Upper).Sum(Mass);
            Assert.True(Cover(exact) >= 0.95, FormattableString.Invariant($"p = {p}: {Cover(exact)}"));
            average += Cover(score) / 199.0;
        }

        Assert.Equal(0.95, average, 0.01);
    }

    [Fact]
    public void Proportions_are_symmetric_and_nothing_seen_is_a_bound()
    {
        ConfidenceInterval few = BinomialInterval.ClopperPearson(3, 40);
        ConfidenceInterval many = BinomialInterval.ClopperPearson(37, 40);
        Assert.Equal(1.0 - few.Upper!.Value, many.Lower!.Value, 1e-13);
        Estimate none = BinomialInterval.Counted(0, 59);
        Assert.Null(none.Value);
        Assert.Equal(0.04950760989, none.Upper95!.Value, 1e-10);
        Assert.NotNull(BinomialInterval.Counted(0, 0).Withheld);
        Assert.Throws<ArgumentOutOfRangeException>(() => BinomialInterval.Counted(5, 4));
        Assert.Equal(BinomialInterval.ClopperPearsonUpper(0, 59).Upper!.Value, BinomialInterval.ZeroCountUpper(59), 1e-15);
        Assert.Equal(0.05, few.Confidence < 1 ? BetaLaw.BinomialCdf(3, 40, BinomialInterval.ClopperPearsonUpper(3, 40).Upper!.Value) : 0, 1e-12);
        Assert.Equal(0.05, 1.0 - BetaLaw.BinomialCdf(2, 40, BinomialInterval.ClopperPearsonLower(3, 40).Lower!.Value), 1e-12);
        Assert.Equal(few.Lower, few.ToEstimate().Lower95);
        Assert.Throws<InvalidOperationException>(() => BinomialInterval.Wilson(3, 40, 0.9).ToEstimate());
    }

    [Fact]
    public void Plans_meet_their_confidence_and_one_part_fewer_does_not()
    {
        foreach (int c in new[] { 0, 1, 3 })
        {
            long n = SamplePlan.Attribute(c, 0.95, 0.97);
            Assert.True(SamplePlan.Confidence(n, c, 0.97) >= 0.95);
            Assert.True(SamplePlan.Confidence(n - 1, c, 0.97) < 0.95);
        }

        // Met exactly: ½² = ¼, so two parts show a reliability of ½ with 75 %; and a plan that already the smallest n meets.
        Assert.Equal(2, SamplePlan.SuccessRun(0.75, 0.5));
        Assert.Equal(1, SamplePlan.SuccessRun(0.5, 0.25));
        Assert.Equal(2, SamplePlan.Attribute(1, 0.1, 0.2));

        // Two-sided 95/95 is 93; 473 is 95/99 (both from the rows, set side by side because they are often mixed up).
        Assert.Equal(93, SamplePlan.WilksTwoSided(1, 0.95, 0.95));
        Assert.Equal(473, SamplePlan.WilksTwoSided(1, 0.95, 0.99));
        Assert.NotNull(NormalToleranceFactor.OneSidedNatrella(3, 0.9, 0.99).Withheld);
    }

    [Fact]
    public void Tolerance_factor_covers_with_its_confidence()
    {
        // 20 000 samples of 8: mean ± k·s must hold 90 % of the output in 95 % of them. Five standard errors of 20 000: 0.008.
        const int N = 8;
        const int Samples = 20_000;
        double two = NormalToleranceFactor.TwoSided(N, 0.90, 0.95);
        double one = NormalToleranceFactor.OneSided(N, 0.90, 0.95);
        int heldTwo = 0;
        int heldOne = 0;
        double[] x = new double[N];
        for (int k = 0; k < Samples; k++)
        {
            for (int i = 0; i < N; i++)
            {
                x[i] = NormalLaw.Quantile(Draw.Uniform(21, 0, (uint)k, Stream, i));
            }

            SampleMoments m = SampleMoments.Of(x);
            double s = m.StandardDeviation!.Value;
            heldTwo += NormalLaw.Cdf(m.Mean + (two * s)) - NormalLaw.Cdf(m.Mean - (two * s)) >= 0.90 ? 1 : 0;
            heldOne += NormalLaw.Cdf(m.Mean + (one * s)) >= 0.90 ? 1 : 0;
        }

        Assert.Equal(0.95, heldTwo / (double)Samples, 0.008);
        Assert.Equal(0.95, heldOne / (double)Samples, 0.008);
    }

    [Fact]
    public void Batches_of_equal_weight_have_the_t_interval()
    {
        // By hand: mean 3, s² = 2.5, SE = √0.5, t(0.975, 4) = 2.776445 (tables).
        Estimate found = BatchEstimate.Of([1, 2, 3, 4, 5]);
        Assert.Equal(3.0, found.Get(), 1e-15);
        Assert.Equal(Math.Sqrt(0.5), found.StandardError!.Value, 1e-14);
        Assert.Equal(3.0 + (2.776445 * Math.Sqrt(0.5)), found.Upper95!.Value, 1e-6);
        Assert.Equal(5, found.Count);
        Assert.Equal(found, BatchEstimate.Of([1, 2, 3, 4, 5, 99], [7, 7, 7, 7, 7, 0]));
        Assert.NotNull(BatchEstimate.Of([1, 2], [3, 0]).Withheld);
        Assert.Throws<ArgumentOutOfRangeException>(() => BatchEstimate.Of([1, 2], [1, -1]));
    }

    [Fact]
    public void Band_over_worlds_takes_the_noise_out()
    {
        // By hand: s² = 2.5, within 0.9, factor √(1 − 0.36) = 0.8: 1.4, 2.2, 3, 3.8, 4.6; type 7 at 0.05: 1.4 + 0.2·0.8.
        WorldBand band = WorldBand.Of([1, 2, 3, 4, 5], [0.9, 0.9, 0.9, 0.9, 0.9]);
        Assert.Equal(0.8, band.Shrinkage!.Value, 1e-15);
        Assert.Equal(1.56, band.Lower05!.Value, 1e-14);
        Assert.Equal(4.44, band.Upper95!.Value, 1e-14);

        // Worlds that differ by noise alone have no band: noise of variance 4 stated as 4.
        double[] noise = [.. Enumerable.Range(0, 400).Select(i => 2.0 * NormalLaw.Quantile(Draw.Uniform(8, 0, (uint)i, Stream, 0)))];
        Assert.True(WorldBand.Of(noise, [.. noise.Select(_ => 4.0)]).Shrinkage < 0.35);

        // True deviation 1 under noise of deviation 1: the band is that of the true figures, ±1.645, not ±2.33. 4000 worlds: ends good to 0.15.
        double[] figures = [.. Enumerable.Range(0, 4000).Select(i =>
            NormalLaw.Quantile(Draw.Uniform(9, 0, (uint)i, Stream, 0)) + NormalLaw.Quantile(Draw.Uniform(9, 0, (uint)i, Stream, 1)))];
        WorldBand mixed = WorldBand.Of(figures, [.. figures.Select(_ => 1.0)]);
        Assert.Equal(-1.645, mixed.Lower05!.Value, 0.15);
        Assert.Equal(1.645, mixed.Upper95!.Value, 0.15);
        Assert.NotNull(WorldBand.Of([1], [0]).Withheld);
    }

    [Fact]
    public void Moments_keep_their_digits_under_a_large_offset()
    {
        // NIST StRD NumAcc4: 10 000 000.2, then ±0.1 about it in turn, 1001 values; certified deviation 0.1 (published figure recalled from memory).
        double[] x = [10000000.2, .. Enumerable.Range(0, 500).SelectMany(_ => new[] { 10000000.1, 10000000.3 })];
        SampleMoments m = SampleMoments.Of(x);
        Assert.Equal(10000000.2, m.Mean, 1e-8);

        // The values themselves are rounded to 2e-9, which is 2e-8 of the deviation.
        Assert.Equal(0.1, m.StandardDeviation!.Value, 1e-8);
        Assert.Null(SampleMoments.Of([1.0]).StandardDeviation);
        Assert.Throws<ArgumentException>(() => SampleMoments.Of([1.0, double.NaN]));
    }

    [Theory]
    [InlineData(0.3, 37.5, 0.16167410085349054, 0.47134707986584334)]
    [InlineData(0.02, 81.25, 0.001693207562187189, 0.07902732686857405)]
    [InlineData(0.9, 12.4, 0.600740930088492, 0.9953146834064119)]
    public void A_share_of_effective_trials_has_beta_limits(double share, double trials, double lower, double upper)
    {
        // Oracle: SciPy 1.10.1, beta.ppf(0.025, x, y + 1) and beta.ppf(0.975, x + 1, y) with x = share·trials, y = trials − x.
        var interval = BinomialInterval.OfShare(share, trials);
        Assert.Equal(lower, interval.Lower!.Value, 1e-10);
        Assert.Equal(upper, interval.Upper!.Value, 1e-10);
        Assert.Equal(BinomialInterval.ClopperPearson(7, 20).Upper!.Value, BinomialInterval.OfShare(0.35, 20.0).Upper!.Value, 1e-12);
        Assert.Equal(0.0, BinomialInterval.OfShare(1e-9, 1000.0).Lower);
        Assert.Equal(1.0, BinomialInterval.OfShare(1.0, 10.0).Upper);
        Assert.Throws<ArgumentOutOfRangeException>(() => BinomialInterval.OfShare(1.1, 10.0));
        Assert.Throws<ArgumentOutOfRangeException>(() => BinomialInterval.OfShare(0.5, 0.0));
    }
}
