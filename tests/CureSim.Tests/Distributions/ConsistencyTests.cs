using CureSim.Core.Distributions;
using CureSim.Core.Numerics;
using CureSim.Core.Random;

namespace CureSim.Tests.Distributions;

/// <summary>The members of every distribution fit each other.</summary>
public class ConsistencyTests
{
    public static TheoryData<string> Names => Examples.Names;

    public static TheoryData<string> Continuous => Examples.Continuous;

    [Theory]
    [MemberData(nameof(Names))]
    public void Block_quantiles_have_the_scalar_bits_at_every_length(string name)
    {
        var d = Examples.All[name];
        for (int length = 0; length <= 80; length++)
        {
            double[] p = Probabilities(length);
            double[] x = new double[length], z = new double[length], scores = [.. p.Select(v => 8.4 * ((2 * v) - 1))];
            d.Quantiles(p, x);
            d.QuantilesOfScores(scores, z);
            double[] inPlace = [.. p];
            d.Quantiles(inPlace, inPlace);
            for (int i = 0; i < length; i++)
            {
                Same(d.Quantile(p[i]), x[i], $"{name}, p = {p[i]:R}");
                Same(d.Quantile(p[i]), inPlace[i], $"{name} in place, p = {p[i]:R}");
                Same(d.QuantileOfScore(scores[i]), z[i], $"{name}, z = {scores[i]:R}");
            }
        }
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void Quantiles_rise_and_stay_in_the_support(string name)
    {
        var d = Examples.All[name];
        double previous = double.NegativeInfinity;
        foreach (double p in Probabilities(4000).Order())
        {
            double x = d.Quantile(p);
            Assert.True(x >= previous, $"{name}: falls at p = {p:R}");
            Assert.InRange(x, d.Minimum, d.Maximum);
            Assert.True(double.IsFinite(x), $"{name}: {x} at p = {p:R}");
            previous = x;
        }
    }

    [Theory]
    [MemberData(nameof(Continuous))]
    public void Exact_quantile_inverts_the_probability(string name)
    {
        // Relative to either tail, but for the rounding of x itself (an end of infinite density magnifies it) and of p, which limits round once more: 10⁻¹⁶ over
        // a share of at least 0.02 here.
        var d = Examples.All[name];
        foreach (double p in new[] { 1e-6, 1e-3, 0.02, 0.3, 0.5, 0.7, 0.98, 0.999, 1.0 - 1e-6 })
        {
            double x = d.QuantileExact(p);
            double rounding = (4 * d.Density(x) * (Math.BitIncrement(Math.Abs(x)) - Math.Abs(x))) + 1e-14;
            Assert.Equal(p, d.Cdf(x), (1e-11 * p) + rounding);
            Assert.Equal(1 - p, d.Survival(x), (1e-11 * (1 - p)) + rounding);
        }
    }

    [Theory]
    [MemberData(nameof(Continuous))]
    public void Density_is_the_slope_of_the_probability(string name)
    {
        var d = Examples.All[name];
        foreach (double p in new[] { 0.01, 0.1, 0.23, 0.5, 0.77, 0.9, 0.99 })
        {
            double x = d.QuantileExact(p), h = 1e-4 * d.StandardDeviation;
            if (x - h > d.Minimum && x + h < d.Maximum)
            {
                double slope = (d.Cdf(x + h) - d.Cdf(x - h)) / (2 * h);
                double curvature = Math.Abs(d.Density(x + h) - (2 * d.Density(x)) + d.Density(x - h)); // the error of the difference quotient is a sixth of it
                Assert.Equal(d.Density(x), slope, curvature + (1e-8 * d.Density(x))); // rounding of Cdf: 10⁻¹⁶/10⁻⁴ with room
            }
        }
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void Moments_are_those_of_the_quantile(string name)
    {
        // ∫ x dp over 2¹⁶ middles. Tails cut at 2⁻¹⁷ and steps bound the error: 2·10⁻³ of the standard deviation, for Student's t 10⁻².
        var d = Examples.All[name];
        const int N = 1 << 16;
        double[] x = new double[N];
        for (int i = 0; i < N; i++)
        {
            x[i] = (i + 0.5) / N;
        }

        d.Quantiles(x, x);
        double mean = x.Average(), sd = Math.Sqrt(x.Average(v => (v - mean) * (v - mean)));
        double tolerance = (name == "Student t" ? 1e-2 : 2e-3) * d.StandardDeviation;
        Assert.Equal(d.Mean, mean, tolerance + 1e-15);
        Assert.Equal(d.StandardDeviation, sd, tolerance + 1e-15);
    }

    [Fact]
    public void Score_form_loses_nothing_in_the_upper_tail()
    {
        Assert.Equal(10.0 + (2.0 * 12.0), new NormalDistribution(10, 2).QuantileOfScore(12));
        Assert.Equal(10.0 + (2.0 * 3.0 * 12.0), new ScaledDistribution(new NormalDistribution(0, 2), -3, 10).QuantileOfScore(12));
        Assert.InRange(new LognormalDistribution(10, Math.E).QuantileOfScore(12) / (10.0 * Math.Exp(12)), 1 - 1e-14, 1 + 1e-14);
        Assert.Equal(new WeibullDistribution(2, 3).Quantile(BlockMath.NormalCdf(1.5)), new WeibullDistribution(2, 3).QuantileOfScore(1.5));
        Assert.True(double.IsFinite(new ExponentialDistribution(1).QuantileOfScore(12)));
    }

    [Fact]
    public void Lognormal_forms_are_one_distribution()
    {
        // Mean m and sd s: sigma² = ln(1 + s²/m²), median = m/√(1 + s²/m²) (definition).
        var d = LognormalDistribution.FromMeanAndSd(5, 3);
        Assert.Equal(5.0, d.Mean, 1e-14);
        Assert.Equal(3.0, d.StandardDeviation, 1e-14);
        var log = LognormalDistribution.FromLog(Math.Log(d.Median), d.SigmaLog);
        Assert.Equal(d.Median, log.Median, 1e-14);
        Assert.Equal(d.SigmaLog, log.SigmaLog);
        Assert.Equal(10.0, new LognormalDistribution(10, 1.2).Quantile(0.5));
    }

    [Fact]
    public void Truncated_moments_by_closed_form_and_by_integral_agree()
    {
        // The last pair of limits is near the width at which the closed form is given up. A normal wrapped in a scale of 1 is no longer known as one, so that its moments are integrated.
        foreach (var (lower, upper) in new[] { (8.0, 13.0), (-100.0, 9.0), (14.0, double.PositiveInfinity), (9.89, 10.11) })
        {
            var closed = new TruncatedDistribution(new NormalDistribution(10, 2), lower, upper);
            var integrated = new TruncatedDistribution(new ScaledDistribution(new NormalDistribution(10, 2), 1), lower, upper);
            Assert.Equal(closed.Mean, integrated.Mean, 1e-11 * closed.Mean);
            Assert.Equal(closed.StandardDeviation, integrated.StandardDeviation, 1e-9 * closed.StandardDeviation);
        }
    }

    /// <summary>Uniforms of a draw, with the least and the greatest possible one and tails among them.</summary>
    private static double[] Probabilities(int count)
    {
        double[] special = [Math.Pow(2, -54), 1.0 - Math.Pow(2, -53), 1e-12, 1.0 - 1e-12, 0.5, 1e-5, 0.99999, 0.2, 0.7];
        double[] p = new double[count];
        UniformBlock.Fill(11, 0, 0, new StreamKey(1), 0, p);
        for (int i = 0; i < count; i += 3)
        {
            p[i] = special[i / 3 % special.Length];
        }

        return p;
    }

    private static void Same(double expected, double actual, string what) =>
        Assert.True(BitConverter.DoubleToInt64Bits(expected) == BitConverter.DoubleToInt64Bits(actual), $"{what}: {expected:R} alone, {actual:R} in a block");
}
