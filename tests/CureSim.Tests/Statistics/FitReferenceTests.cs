using System.Globalization;
using CureSim.Core.Statistics;

namespace CureSim.Tests.Statistics;

/// <summary>Fits against SciPy (tests/data/reference/fit_scipy.py). Tolerances: its optimisers end at 1e-9 of a parameter, differences of second order at 1e-5.</summary>
public class FitReferenceTests
{
    private const double Optimised = 1e-7, Differenced = 1e-4;

    [Theory]
    [InlineData("effects-bcg")]
    [InlineData("effects-alike")]
    [InlineData("effects-emitters")]
    public void RandomEffects_AreThoseOfSciPy(string name)
    {
        var (input, values) = Case(name);
        int k = input.Length / 2;
        var found = RandomEffects.Of(input[..k], input[k..]);
        Near(values["mean"], found.Mean.Get(), Optimised);
        Near(values["se"], found.Mean.StandardError!.Value, 1e-6);
        Near(values["half"], found.Mean.HalfWidth95!.Value, 1e-6);
        Assert.Equal(values["tau"], found.Spread.Get(), 1e-6);
        Assert.Equal(values["tau_low"], found.Spread.Lower95!.Value, 1e-6);
        Assert.Equal(values["tau_high"], found.Spread.Upper95!.Value, 1e-6);
        Near(values["p"], found.Chance!.Value, 1e-8);
    }

    [Fact]
    public void RandomEffects_TakeTheErrorOfFitOutOfTheSpread()
    {
        // Estimates whose scatter is all error of fit: their own variance would call it spread.
        double[] x = [1.0, 1.2, 0.9, 1.1, 0.8, 1.0];
        var found = RandomEffects.Of(x, [.. x.Select(_ => 0.04)]);
        Assert.Equal(0.0, found.Spread.Get());
        Assert.True(SampleMoments.Of(x).StandardDeviation > 0.1);
        Assert.Equal(0.0, found.Spread.Lower95);
    }

    [Fact]
    public void RandomEffects_OfOneUnit_HaveNoSpread()
    {
        var found = RandomEffects.Of([2.0], [0.25]);
        Assert.Equal(0.5, found.Mean.StandardError);
        Assert.NotNull(found.Spread.Withheld);
    }

    [Theory]
    [InlineData("weibull-truncated")]
    [InlineData("weibull-plain")]
    public void TruncatedWeibull_IsThatOfSciPy(string name)
    {
        var (input, values) = Case(name);
        int k = input.Length / 3;
        var found = TruncatedWeibull.Fit([.. Enumerable.Range(0, k).Select(i => new TruncatedWeibull.Watched(input[i], input[k + i], input[(2 * k) + i] > 0.5))]);
        Assert.Null(found.Withheld);
        Near(values["shape"], found.Shape, 1e-6);
        Near(values["scale"], found.Scale, 1e-6);
        Near(values["shape_error"], found.ShapeErrorLog, Differenced);
        Near(values["scale_error"], found.ScaleErrorLog, Differenced);
        Near(values["correlation"], found.Correlation, 1e-3);
    }

    [Theory]
    [InlineData("normal")]
    [InlineData("lognormal")]
    [InlineData("gamma")]
    [InlineData("weibull")]
    public void SampleLaws_AreThoseOfSciPy(string name)
    {
        var (input, values) = Case("law-" + name);
        var found = SampleLaws.Fit(name, [.. input.Order()])!;
        Near(values["first"], found.First, 1e-6);
        Near(values["second"], found.Second, 1e-6);
        Near(values["log"], found.LogLikelihood, 1e-9);
        Near(values["aicc"], found.Criterion, 1e-9);
        Near(values["a2"], found.AndersonDarling, 1e-6);
    }

    [Fact]
    public void SampleLaws_PutTheLawOfTheValuesFirst()
    {
        // Quantiles of a lognormal law: no other candidate can fit better.
        var law = new Core.Distributions.LognormalDistribution(2.0, 1.6);
        var found = SampleLaws.Compare([.. Enumerable.Range(1, 120).Select(i => law.Quantile((i - 0.5) / 120.0))]);
        Assert.Equal("lognormal", found[0].Name);
        Assert.True(found[0].PValue > 0.5);
        Assert.True(found.Single(l => l.Name == "normal").PValue < 0.05);
    }

    [Fact]
    public void WeightedCurve_IsThatOfSciPy()
    {
        var (input, values) = Case("curve-weighted");
        int n = input.Length / 3;
        double[] h = input[..n], y = input[n..(2 * n)], w = input[(2 * n)..];
        var fit = NonlinearFit.Fit(
            (p, value, slope) =>
            {
                for (int i = 0; i < n; i++)
                {
                    double shape = Math.Exp(p[2]), log = h[i] > 0.0 ? Math.Log(h[i]) - p[1] : double.NegativeInfinity, z = Math.Exp(shape * log);
                    value[i] = p[0] - z;
                    slope[3 * i] = 1.0;
                    slope[(3 * i) + 1] = shape * z;
                    slope[(3 * i) + 2] = h[i] > 0.0 ? -shape * log * z : 0.0;
                }
            },
            y, w, [1.0, 8.0, -0.2]);
        Assert.Null(fit.Withheld);
        Near(values["level"], fit.Parameters[0], Optimised);
        Near(values["log_time"], fit.Parameters[1], Optimised);
        Near(values["log_shape"], fit.Parameters[2], Optimised);
        Near(values["rss"], fit.SumOfSquares, 1e-8);

        // SciPy's Jacobian is by differences.
        Near(values["se_level"], fit.DeviationOf(0)!.Value, Differenced);
        Near(values["se_time"], fit.DeviationOf(1)!.Value, Differenced);
        Near(values["se_shape"], fit.DeviationOf(2)!.Value, Differenced);
    }

    [Fact]
    public void NonlinearFit_HoldsAParameterAtItsLimit()
    {
        // y = a·x with a ≤ 2 where the data say 3.
        double[] x = [1.0, 2.0, 3.0], y = [3.0, 6.0, 9.1];
        var fit = NonlinearFit.Fit(
            (p, value, slope) =>
            {
                for (int i = 0; i < 3; i++)
                {
                    value[i] = (p[0] * x[i]) + p[1];
                    slope[2 * i] = x[i];
                    slope[(2 * i) + 1] = 1.0;
                }
            },
            y, [], [1.0, 0.0], [0.0, -10.0], [2.0, 10.0]);
        Assert.True(fit.AtLimit[0]);
        Assert.Equal(2.0, fit.Parameters[0]);

        // With the slope held the level is the mean of what is left; the sum of squares is flat to rounding within √ε of it.
        Assert.Equal((3.0 + 6.0 + 9.1 - 12.0) / 3.0, fit.Parameters[1], 1e-7);
        Assert.Null(fit.DeviationOf(0));
        Assert.NotNull(fit.DeviationOf(1));
    }

    [Fact]
    public void NonlinearFit_SaysWhenParametersCannotBeToldApart()
    {
        double[] y = [1.0, 2.0, 2.5, 4.2];
        var fit = NonlinearFit.Fit(
            (p, value, slope) =>
            {
                for (int i = 0; i < 4; i++)
                {
                    value[i] = (p[0] + p[1]) * i;
                    slope[2 * i] = i;
                    slope[(2 * i) + 1] = i;
                }
            },
            y, [], [0.5, 0.2]);
        Assert.Contains("apart", fit.Withheld!, StringComparison.Ordinal);
    }

    private static (double[] Input, Dictionary<string, double> Values) Case(string name)
    {
        var rows = DataFile.Csv("reference", "fit-scipy.csv").Where(r => r[0] == name).ToArray();
        double[] input = [.. rows[0][1].Split(';').Select(v => double.Parse(v, CultureInfo.InvariantCulture))];
        return (input, rows.ToDictionary(r => r[2], r => double.Parse(r[3], CultureInfo.InvariantCulture)));
    }

    private static void Near(double expected, double actual, double relative) => Assert.InRange(actual, expected - (relative * Math.Abs(expected)), expected + (relative * Math.Abs(expected)));
}
