using CureSim.Core.Random;
using CureSim.Core.Statistics;

namespace CureSim.Tests.Statistics;

public class CapabilityTests
{
    private static readonly StreamKey Stream = StreamKey.Of(DrawDomain.Reserved, "test.capability");

    [Fact]
    public void One_limit_gives_one_index_and_a_missing_limit_is_not_zero()
    {
        CapabilityIndices upper = MomentCapability.Of(10, 1, new LimitPair(null, 13, 10));
        Assert.Equal(1.0, upper.Cpu!.Value, 1e-15);
        Assert.Equal(upper.Cpu, upper.Cpk);
        Assert.Null(upper.Cp);
        Assert.Null(upper.Cpl);
        Assert.Null(upper.Cpm);
        Assert.Null(upper.OffCentre);
        CapabilityIndices lower = PercentileCapability.Of(7, 10, 13, new LimitPair(4, null));
        Assert.Equal(2.0, lower.Cpk!.Value, 1e-15);
        Assert.Null(lower.Cpu);
        Assert.Null(lower.Cp);
    }

    [Fact]
    public void Indices_that_cannot_be_formed_are_withheld_with_the_reason()
    {
        Assert.Contains("neither", MomentCapability.Of(1, 1, new LimitPair(null, null)).Withheld);
        Assert.Contains("not below", MomentCapability.Of(1, 1, new LimitPair(2, 2)).Withheld);
        Assert.Contains("no spread", MomentCapability.Of(1, 0, new LimitPair(0, 2)).Withheld);
        Assert.Contains("not a usable", MomentCapability.Of(double.NaN, 1, new LimitPair(0, 2)).Withheld);
        Assert.Contains("do not increase", PercentileCapability.Of(1, 1, 2, new LimitPair(0, 3)).Withheld);
        Assert.Contains("740", PercentileCapability.OfSorted(new double[100], new LimitPair(0, 3)).Withheld);
        Assert.Null(MomentCapability.Of(1, 0, new LimitPair(0, 2)).Cpk);
        Assert.NotNull(CapabilityInterval.Cp(1.3, 1).Withheld);
        Assert.NotNull(CapabilityInterval.OneSidedLower(double.NaN, 30).Withheld);
    }

    [Fact]
    public void Percentile_indices_of_a_normal_output_are_the_moment_indices()
    {
        var limits = new LimitPair(8, 20, 14);
        double z = -NormalLaw.Quantile(PercentileCapability.LowProbability);
        CapabilityIndices moments = MomentCapability.Of(15, 1.5, limits);
        CapabilityIndices percentiles = PercentileCapability.Of(15 - (z * 1.5), 15, 15 + (z * 1.5), limits);

        // 0.135 % is 2.99998 standard deviations, not 3: 8e-6 relative.
        Assert.Equal(moments.Cp!.Value, percentiles.Cp!.Value, 1e-5 * moments.Cp.Value);
        Assert.Equal(moments.Cpk!.Value, percentiles.Cpk!.Value, 1e-5 * moments.Cpk.Value);
        MethodComparison same = PercentileCapability.Compare(moments, percentiles);
        Assert.True(same.Normal);
        Assert.Contains("either", same.Statement);
    }

    [Fact]
    public void Methods_that_differ_by_more_than_a_tenth_are_called_not_normal()
    {
        // Exponential of mean 1, upper limit 8: moment Cpu = 7/3, percentile Cpu = 1.2354 (row CAP-NN-exponential).
        var limits = new LimitPair(null, 8);
        CapabilityIndices moments = MomentCapability.Of(1, 1, limits);
        CapabilityIndices percentiles = PercentileCapability.Of(-Math.Log(0.99865), Math.Log(2), -Math.Log(0.00135), limits);
        MethodComparison found = PercentileCapability.Compare(moments, percentiles);
        Assert.False(found.Normal);
        Assert.Equal(1.0 - (1.235412713 / (7.0 / 3.0)), found.LargestRelativeDifference!.Value, 1e-8);
        Assert.Contains("use the percentile indices", found.Statement);
        Assert.Contains("47 %", found.Statement);
        Assert.Null(PercentileCapability.Compare(moments, CapabilityIndices.Withhold(CapabilityMethod.Percentiles, "too few")).Normal);
    }

    [Fact]
    public void Index_of_a_fraction_turns_the_limits_round_and_has_no_value_for_zero()
    {
        Assert.Contains("lower bound", NonconformingFraction.EquivalentIndex(0.0).Withheld);
        Assert.NotNull(NonconformingFraction.EquivalentIndex(1.0).Withheld);
        Estimate fraction = BinomialInterval.Counted(27, 20000);
        Estimate index = NonconformingFraction.EquivalentIndex(fraction);
        Assert.Equal(1.0, index.Get(), 1e-4);
        Assert.Equal(fraction.Upper95!.Value, NonconformingFraction.OneSided(index.Lower95!.Value), 1e-12);
        Assert.Equal(fraction.Lower95!.Value, NonconformingFraction.OneSided(index.Upper95!.Value), 1e-12);
        Estimate bound = NonconformingFraction.EquivalentIndex(BinomialInterval.Counted(0, 3000));
        Assert.Null(bound.Value);
        Assert.Equal(NormalLaw.Quantile(Math.Pow(0.05, 1.0 / 3000)) / 3.0, bound.Lower95!.Value, 1e-9);
    }

    /// <summary>The table of ISO 22514-2, recalled from memory: location, dispersion constant, momentary normal, resulting normal → class.</summary>
    [Theory]
    [InlineData(LocationMovement.Constant, true, true, true, "A1", false)]
    [InlineData(LocationMovement.Constant, true, false, false, "A2", false)]
    [InlineData(LocationMovement.Constant, false, true, false, "B", false)]
    [InlineData(LocationMovement.Random, true, true, true, "C1", false)]
    [InlineData(LocationMovement.Random, true, true, false, "C2", false)]
    [InlineData(LocationMovement.Systematic, true, true, false, "C3", false)]
    [InlineData(LocationMovement.Systematic, true, false, false, "C3", false)]
    [InlineData(LocationMovement.SystematicAndRandom, true, false, false, "C4", false)]
    [InlineData(LocationMovement.SystematicAndRandom, false, true, false, "D", false)]
    [InlineData(LocationMovement.SystematicAndRandom, false, false, false, "D", false)]
    [InlineData(LocationMovement.Random, true, false, false, "C4", true)]
    [InlineData(LocationMovement.Systematic, false, true, false, "D", true)]
    [InlineData(LocationMovement.Constant, false, false, false, "D", true)]
    public void Class_of_the_time_dependent_model(LocationMovement location, bool dispersion, bool momentary, bool resulting, string letter, bool caveat)
    {
        TimeDependentModel found = TimeDependentModel.Of(location, dispersion, momentary, resulting);
        Assert.Equal(letter, found.Letter);
        Assert.Equal(caveat, found.Caveat is not null);
        Assert.EndsWith(".", found.Meaning);
    }

    [Fact]
    public void Ranks_of_a_quantile_interval_are_the_tightest_allowed()
    {
        foreach (var (n, p) in new[] { (50, 0.5), (200, 0.9), (5000, 0.99865) })
        {
            int low = PercentileInterval.LowerRank(n, p, 0.025)!.Value;
            Assert.True(BetaLaw.BinomialCdf(low - 1, n, p) <= 0.025);
            Assert.True(BetaLaw.BinomialCdf(low, n, p) > 0.025);
            int high = PercentileInterval.UpperRank(n, p, 0.025)!.Value;
            Assert.True(1.0 - BetaLaw.BinomialCdf(high - 1, n, p) <= 0.025);
            Assert.True(1.0 - BetaLaw.BinomialCdf(high - 2, n, p) > 0.025);
        }

        // ln 0.025/ln 0.99865 = 2730.7: with fewer parts the outer quantile has no upper bound.
        double[] parts = [.. Enumerable.Range(1, 2730).Select(i => (double)i)];
        ConfidenceInterval refused = PercentileInterval.Quantile(parts, 0.99865);
        Assert.Contains("2731", refused.Withheld);
        Assert.NotNull(refused.Value);
        Assert.NotNull(PercentileInterval.Quantile([.. parts, 2731.0], 0.99865).Upper);
    }

    [Fact]
    public void Bootstrap_of_the_percentile_index_equals_plain_resampling()
    {
        const int N = 1000;
        double[] x = [.. Enumerable.Range(0, N).Select(i => NormalLaw.Quantile(Draw.Uniform(3, 0, (uint)i, Stream, 0))).Order()];
        var limits = new LimitPair(-5, 5);
        Estimate found = PercentileInterval.BootstrapCpk(x, limits, seed: 11);
        Assert.Equal(found, PercentileInterval.BootstrapCpk(x, limits, seed: 11));
        Assert.NotEqual(found, PercentileInterval.BootstrapCpk(x, limits, seed: 12));

        const int Resamples = 2000;
        double[] plain = new double[Resamples];
        double[] y = new double[N];
        for (int r = 0; r < Resamples; r++)
        {
            for (int i = 0; i < N; i++)
            {
                y[i] = x[(int)(N * Draw.Uniform(4, 0, (uint)r, Stream, i))];
            }

            Array.Sort(y);
            plain[r] = PercentileCapability.OfSorted(y, limits).Cpk!.Value;
        }

        // Standard deviations of 2000 resamples each are good to 1.6 %; five of their difference is 11 %.
        double error = SampleMoments.Of(plain).StandardDeviation!.Value;
        Assert.Equal(error, found.StandardError!.Value, 0.11 * error);

        // An end of the interval has a standard error of about √(0.025·0.975/2000)/f ≈ 0.06 σ; five of the difference of two is 0.45 σ.
        Array.Sort(plain);
        Assert.Equal(SampleQuantile.OfSorted(plain, 0.025), found.Lower95!.Value, 0.45 * error);
        Assert.Equal(SampleQuantile.OfSorted(plain, 0.975), found.Upper95!.Value, 0.45 * error);
        Assert.True(found.Lower95 < found.Value && found.Value < found.Upper95);
    }
}
