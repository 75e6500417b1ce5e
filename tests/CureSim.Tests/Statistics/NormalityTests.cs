using CureSim.Core.Random;
using CureSim.Core.Statistics;

namespace CureSim.Tests.Statistics;

public class NormalityTests
{
    private static readonly StreamKey Stream = StreamKey.Of(DrawDomain.Reserved, "test.normality");

    [Fact]
    public void Tests_reject_at_their_level_and_find_a_skewed_output()
    {
        // 2000 normal samples of 30: 5 % rejected, five standard errors 2.4 %. The same with e^x: nearly all rejected.
        int falseAlarmsA = 0;
        int falseAlarmsW = 0;
        int foundA = 0;
        int foundW = 0;
        double[] x = new double[30];
        for (int k = 0; k < 2000; k++)
        {
            for (int i = 0; i < x.Length; i++)
            {
                x[i] = NormalLaw.Quantile(Draw.Uniform(31, 0, (uint)k, Stream, i));
            }

            falseAlarmsA += AndersonDarling.Normal(x).PValue < 0.05 ? 1 : 0;
            falseAlarmsW += ShapiroWilk.Normal(x).PValue < 0.05 ? 1 : 0;
            double[] skewed = [.. x.Select(Math.Exp)];
            foundA += AndersonDarling.Normal(skewed).PValue < 0.05 ? 1 : 0;
            foundW += ShapiroWilk.Normal(skewed).PValue < 0.05 ? 1 : 0;
        }

        Assert.Equal(0.05, falseAlarmsA / 2000.0, 0.025);
        Assert.Equal(0.05, falseAlarmsW / 2000.0, 0.025);
        Assert.True(foundA > 1900 && foundW > 1900, $"{foundA} and {foundW} of 2000");
    }

    [Fact]
    public void Samples_that_cannot_be_tested_are_refused()
    {
        Assert.NotNull(AndersonDarling.Normal([1, 2, 3, 4, 5, 6, 7]).Withheld);
        Assert.Contains("no spread", AndersonDarling.Normal(new double[20]).Withheld);
        Assert.NotNull(ShapiroWilk.Normal([1, 2, 3]).Withheld);
        Assert.Contains("no spread", ShapiroWilk.Normal(new double[20]).Withheld);
        Assert.Equal(0.0, AndersonDarling.PValue(400.0));
    }

    [Fact]
    public void Power_of_a_lognormal_sample_is_near_zero_and_its_quantiles_are_found()
    {
        double[] x = [.. Enumerable.Range(0, 2000).Select(i => Math.Exp(1.0 + (0.4 * NormalLaw.Quantile((i + 0.5) / 2000))))];
        BoxCox fit = BoxCox.Fit(x);

        // A grid of quantiles: the sample is lognormal but for its cut tails.
        Assert.Equal(0.0, fit.Lambda.Get(), 1e-3);
        Assert.True(fit.Lambda.Lower95 < 0.0 && fit.Lambda.Upper95 > 0.0);
        double exact = Math.Exp(1.0 + (0.4 * NormalLaw.Quantile(0.99865)));
        Assert.Equal(exact, fit.Quantile(0.99865).Get(), 0.01 * exact);

        // A change of unit leaves the power as it is.
        Assert.Equal(fit.Lambda.Get(), BoxCox.Fit([.. x.Select(v => 1000 * v)]).Lambda.Get(), 1e-9);
        Assert.NotNull(BoxCox.Fit([1, 2, 0, 4]).Lambda.Withheld);
        Assert.NotNull(BoxCox.Fit([2, 2, 2]).Lambda.Withheld);
        Assert.NotNull(BoxCox.Fit([1, 2, 0, 4]).Quantile(0.5).Withheld);
        Assert.Contains("beyond", new BoxCox(Estimate.Exact(1.0), 0, 0.5, 1).Quantile(0.001).Withheld);
    }

    [Fact]
    public void Rounded_and_stuck_readings_are_seen_and_clean_ones_are_not()
    {
        double[] clean = [.. Enumerable.Range(0, 200).Select(i => 50 + NormalLaw.Quantile(Draw.Uniform(41, 0, (uint)i, Stream, 0)))];
        SampleScreening none = SampleScreening.Of(clean);
        Assert.Empty(none.Findings);
        Assert.Null(none.Resolution);
        Assert.Equal(200, none.Distinct);

        // Rounded to 0.5 with σ = 1: q²/12 is 2.1 % of the variance.
        SampleScreening rounded = SampleScreening.Of([.. clean.Select(x => Math.Round(2 * x) / 2)]);
        Assert.Equal(0.5, rounded.Resolution!.Value, 1e-12);
        Assert.Equal(0.25 / 12.0, rounded.RoundingShare!.Value, 0.006);
        Assert.Contains(rounded.Findings, f => f.Contains("multiples of 0.5", StringComparison.Ordinal));

        // Rounded to 0.01: a step is seen but does no harm; then seven equal readings are planted.
        double[] fine = [.. clean.Select(x => Math.Round(x, 2))];
        Assert.Equal(0.01, SampleScreening.Of(fine).Resolution!.Value, 1e-12);
        Assert.Empty(SampleScreening.Of(fine).Findings);
        for (int i = 100; i < 107; i++)
        {
            fine[i] = fine[100];
        }

        SampleScreening stuck = SampleScreening.Of(fine);
        Assert.Equal(7, stuck.LongestRun);
        Assert.Contains(stuck.Findings, f => f.Contains("in a row", StringComparison.Ordinal));
        Assert.Contains(SampleScreening.Of([3, 3, 3]).Findings, f => f.Contains("All values are equal", StringComparison.Ordinal));
        Assert.NotEmpty(SampleScreening.Of([]).Findings);
    }
}
