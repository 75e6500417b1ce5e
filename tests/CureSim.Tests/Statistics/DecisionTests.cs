using CureSim.Core.Random;
using CureSim.Core.Statistics;

namespace CureSim.Tests.Statistics;

/// <summary>Conformity, gauge, economics, tails and the Monte Carlo rules: refusals, identities and closed forms.</summary>
public class DecisionTests
{
    private static readonly StreamKey Stream = StreamKey.Of(DrawDomain.Reserved, "test.decision");

    [Fact]
    public void Guard_bands_that_meet_accept_nothing()
    {
        Assert.Contains("meet", GuardBand.FromExpanded(2.6, new LimitPair(5, 10)).Withheld);
        Assert.Contains("too large", GuardBand.ForConformance(3.0, new LimitPair(5, 10), 0.95).Withheld);
        Assert.Null(GuardBand.ForConformance(3.0, new LimitPair(5, 10), 0.95).Limits);
        GuardBand half = GuardBand.FromExpanded(0.4, new LimitPair(5, 10), 0.5);
        Assert.Equal(new LimitPair(5.2, 9.8), half.Limits);
        GuardBand one = GuardBand.ForConformance(0.2, new LimitPair(5, null), 0.95);
        Assert.Equal(5.0 + (0.2 * 1.6448536269514722), one.Limits!.Lower!.Value, 1e-12);
        Assert.Null(one.Limits.Upper);

        // Close limits: both tails count, so the band is wider than that of one limit.
        Assert.True(GuardBand.ForConformance(1.0, new LimitPair(5, 9.2), 0.95).Width > 1.0 * 1.6448536269514722);
    }

    [Fact]
    public void Global_risk_of_one_limit_is_the_bivariate_normal_orthant()
    {
        // Limit and acceptance at the process mean: P(true above, reading below) = ¼ − asin(ρ)/2π, ρ = σ/√(σ² + u²) (Sheppard 1899).
        var at = new LimitPair(null, 7.0);
        GlobalRisk risk = GlobalRisk.Normal(7.0, 0.3, 0.1, at, at);
        double rho = 0.3 / Math.Sqrt(0.1);
        double expected = 0.25 - (Math.Asin(rho) / (2.0 * Math.PI));
        Assert.Equal(expected, risk.ConsumerRisk, 1e-12);
        Assert.Equal(expected, risk.ProducerRisk, 1e-12);
        Assert.Equal(0.5, risk.Accepted, 1e-14);
    }

    [Fact]
    public void Gauge_shares_by_hand()
    {
        GaugeShare found = GaugeShare.Of(1.0, 15.0, new LimitPair(0, 60));
        Assert.Equal(25.0, found.PercentOfTotal!.Value, 1e-12);
        Assert.Equal(10.0, found.PercentOfTolerance!.Value, 1e-12);
        Assert.Equal(5, found.DistinctCategories);
        Assert.Equal(1, GaugeShare.Of(4, 1).DistinctCategories);
        Assert.Null(GaugeShare.Of(0, 1).DistinctCategories);
        Assert.Null(GaugeShare.Of(0, 0).PercentOfTotal);
        Assert.Null(GaugeShare.Of(1, 15, new LimitPair(null, 60)).PercentOfTolerance);
    }

    [Fact]
    public void Negative_component_is_set_to_zero_and_said_so()
    {
        OneWayComponents flat = OneWayComponents.Of([[1, 2, 3], [3, 2, 1], [2, 1, 3]]);
        Assert.True(flat.NegativeBetween);
        Assert.Equal(0.0, flat.VarianceBetween);
        Assert.Null(flat.RestrictedCriterion);
        Assert.NotNull(OneWayComponents.Of([[1, 2]]).Withheld);
        Assert.NotNull(OneWayComponents.Of([[1], [2]]).Withheld);
        Assert.NotNull(NestedComponents.Of([[[1, 2], [3, 4]]]).Withheld);
        Assert.True(NestedComponents.Of([[[1, 9], [2, 8]], [[3, 7], [4, 6]]]).SetToZero);
        Assert.NotNull(PooledDeviation.Of([], []).Withheld);
    }

    [Fact]
    public void Rates_of_return_that_do_not_exist_or_are_not_unique_are_withheld()
    {
        Assert.Contains("never change sign", CashFlow.InternalRate([5, 6, 7]).Withheld);

        // −1000 + 2300 − 1320: both 10 % and 20 % serve.
        Assert.Contains("several", CashFlow.InternalRate([-1000, 2300, -1320]).Withheld);
        Assert.Equal(0.0, CashFlow.NetPresentValue(0.1, [-1000, 2300, -1320]), 1e-11);
        Assert.Equal(0.0, CashFlow.NetPresentValue(0.2, [-1000, 2300, -1320]), 1e-11);

        // Signs change three times, but the running total only once: unique.
        double[] norstrom = [-100, 60, -10, 90];
        Assert.Equal(0.0, CashFlow.NetPresentValue(CashFlow.InternalRate(norstrom).Get(), norstrom), 1e-11);
        Assert.Equal(0.0, CashFlow.InternalRate([-100, 60, 40]).Get());
        Assert.Equal(-0.5, CashFlow.InternalRate([-100, 50]).Get(), 1e-12);
        Assert.Equal(3.0, CashFlow.InternalRate([-100, 400]).Get(), 1e-12);
    }

    [Fact]
    public void Annuities_agree_with_their_sums_for_every_timing()
    {
        const double Rate = 0.07;
        double end = Enumerable.Range(1, 9).Sum(t => Math.Pow(1 + Rate, -t));
        double middle = Enumerable.Range(1, 9).Sum(t => Math.Pow(1 + Rate, 0.5 - t));
        Assert.Equal(end, Annuity.PresentValueFactor(Rate, 9), 1e-12);
        Assert.Equal(middle, Annuity.PresentValueFactor(Rate, 9, FlowTiming.Middle), 1e-12);
        Assert.Equal(end * (1 + Rate), Annuity.PresentValueFactor(Rate, 9, FlowTiming.Begin), 1e-12);
        Assert.Equal(GaussQuadrature.Integrate(t => Math.Pow(1 + Rate, -t), 0, 9), Annuity.PresentValueFactor(Rate, 9, FlowTiming.Continuous), 1e-12);
        Assert.Equal(9.0, Annuity.PresentValueFactor(0.0, 9, FlowTiming.Middle));
        Assert.Equal(9.0, Annuity.PresentValueFactor(1e-13, 9), 1e-10);

        // One replacement every m years is an annuity at (1 + r)^m − 1.
        double every3 = Enumerable.Range(1, 3).Sum(k => Math.Pow(1 + Rate, -3 * k));
        Assert.Equal(every3, Annuity.PresentValueFactor(Math.Pow(1 + Rate, 3) - 1, 3), 1e-12);
        foreach (FlowTiming timing in Enum.GetValues<FlowTiming>())
        {
            double payment = Annuity.Payment(Rate, 9, 1000, -200, timing);
            Assert.Equal(1000, Annuity.PresentValue(Rate, 9, payment, -200, timing), 1e-9);
            Assert.Equal(9.0, Annuity.PeriodCount(Rate, payment, 1000, -200, timing).Get(), 1e-9);
        }

        Assert.NotNull(Annuity.PeriodCount(0.1, -99, 1000).Withheld);
        Assert.Equal(10.0, Annuity.PeriodCount(0.0, -100, 1000).Get(), 1e-12);
        Assert.Throws<ArgumentOutOfRangeException>(() => Annuity.PresentValueFactor(-1.0, 3));
    }

    [Fact]
    public void Weighted_tail_draws_give_the_probability_and_its_error()
    {
        // P(Z > 4) from 20 000 draws of N(4, 1): row TAIL-IS-4 gives p and the variation of one draw, 2.1239.
        const int N = 20_000;
        double[] v = [.. Enumerable.Range(0, N).Select(i =>
        {
            double x = 4.0 + NormalLaw.Quantile(Draw.Uniform(51, 0, (uint)i, Stream, 0));
            return x > 4.0 ? Math.Exp(ImportanceSampling.LogWeight(x, 4.0)) : 0.0;
        })];
        WeightedMean found = ImportanceSampling.Mean(v);
        const double P = 3.16712418331e-5;
        double error = 2.1239371 * P / Math.Sqrt(N);
        Assert.Equal(P, found.Value.Get(), 4.0 * error);
        Assert.Equal(error, found.Value.StandardError!.Value, 0.05 * error);
        Assert.True(found.EffectiveCount is > 1000 and < N);
        Assert.True(found.LargestShare < 0.01);
        Assert.NotNull(ImportanceSampling.Mean([0, 0, 0]).Value.Withheld);
        Assert.Throws<ArgumentOutOfRangeException>(() => ImportanceSampling.Mean([-1.0]));
    }

    [Theory]
    [InlineData(0.2)]
    [InlineData(0.0)]
    [InlineData(-0.3)]
    public void Tail_fit_finds_shape_and_scale_with_honest_errors(double shape)
    {
        // 400 samples of 500 excesses. Bias of the moments is O(1/n); the scatter must match the stated error within 15 %
        // (four standard errors of a standard deviation from 400 samples: 14 %).
        var law = new GeneralisedPareto(shape, 2.0);
        const int Samples = 400;
        double[] shapes = new double[Samples];
        double[] scales = new double[Samples];
        double statedShape = 0.0;
        double statedScale = 0.0;
        for (int k = 0; k < Samples; k++)
        {
            double[] y = [.. Enumerable.Range(0, 500).Select(i => law.UpperQuantile(Draw.Uniform(61, 0, (uint)k, Stream, i)))];
            var (s, b) = GeneralisedPareto.Fit(y);
            shapes[k] = s.Get();
            scales[k] = b.Get();
            statedShape += s.StandardError!.Value / Samples;
            statedScale += b.StandardError!.Value / Samples;
        }

        SampleMoments m = SampleMoments.Of(shapes);
        Assert.Equal(shape, m.Mean, 0.02);
        Assert.Equal(m.StandardDeviation!.Value, statedShape, 0.15 * statedShape);
        SampleMoments b2 = SampleMoments.Of(scales);
        Assert.Equal(2.0, b2.Mean, 0.03);
        Assert.Equal(b2.StandardDeviation!.Value, statedScale, 0.15 * statedScale);
        Assert.NotNull(GeneralisedPareto.Fit([1, 2, 3]).Shape.Withheld);
    }

    [Fact]
    public void Tail_law_is_continuous_through_shape_zero()
    {
        double y = 3.7;
        double at = new GeneralisedPareto(0.0, 2.0).Survival(y);

        // The derivative in ξ at 0 is e^(−z) z²/2 with z = 1.85: 0.27; over 1e-7 that is 2.7e-8.
        Assert.Equal(at, new GeneralisedPareto(1e-7, 2.0).Survival(y), 3e-8);
        Assert.Equal(at, new GeneralisedPareto(-1e-7, 2.0).Survival(y), 3e-8);
        Assert.Equal(y, new GeneralisedPareto(-0.2, 2.0).UpperQuantile(new GeneralisedPareto(-0.2, 2.0).Survival(y)), 1e-12);
        Assert.Throws<ArgumentOutOfRangeException>(() => new GeneralisedPareto(0.1, 1).TailProbability(1, 2, 0.1));
    }

    [Fact]
    public void Too_few_trials_have_no_coverage_interval()
    {
        Assert.NotNull(CoverageInterval.Symmetric([1, 2, 3], 0.95).Withheld);
        Assert.Null(CoverageInterval.Shortest([1, 2, 3], 0.95).Width);
        double[] skewed = [.. Enumerable.Range(1, 1000).Select(i => -Math.Log(1.0 - (i / 1001.0)))];
        Assert.True(CoverageInterval.Shortest(skewed, 0.9).Width < CoverageInterval.Symmetric(skewed, 0.9).Width);
        Assert.Throws<ArgumentOutOfRangeException>(() => NumericalTolerance.Of(0.0, 2));

        // 1.005 · 100 is 100.49999999999999 in binary; the decimal half must still round up.
        Assert.Equal(101, NumericalTolerance.Of(1.005, 3).Mantissa);
    }

    [Fact]
    public void Roots_and_integrals_are_found_to_rounding()
    {
        Assert.Equal(Math.Sqrt(2.0), MonotoneRoot.Find(x => (x * x) - 2.0, 0, 5), 1e-15);
        Assert.Equal(1e-200, MonotoneRoot.Find(x => x - 1e-200, -1, 1), 1e-214);
        Assert.Throws<ArithmeticException>(() => MonotoneRoot.Find(x => (x * x) + 1.0, -1, 1));

        // A spike of width 1e-4 inside (0, 10): its area is √π·1e-4.
        double spike = GaussQuadrature.Integrate(x => Math.Exp(-(x - 3.3) * (x - 3.3) * 1e8), 0, 10, firstPanels: 64);
        Assert.Equal(Math.Sqrt(Math.PI) * 1e-4, spike, 1e-15);
        Assert.Equal(1.0 / 40.0, GaussQuadrature.Integrate(x => Math.Pow(x, 39), 0, 1), 1e-16);
    }
}
