using CureSim.Core.Statistics;

namespace CureSim.Tests.Statistics;

/// <summary>What the survival estimates refuse to state, and closed forms of the fits.</summary>
public class SurvivalRefusalTests
{
    [Fact]
    public void Median_not_reached_is_withheld_but_keeps_its_lower_limit()
    {
        // 10 of 21 censored late: S stays above one half.
        double[] times = [.. Enumerable.Range(1, 20).Select(i => (double)i)];
        bool[] events = [.. times.Select(t => t <= 8)];
        Estimate median = KaplanMeier.Fit(times, events).Quantile(0.5);
        Assert.Null(median.Value);
        Assert.Contains("50 %", median.Withheld);
        Assert.NotNull(median.Lower95);
        Assert.Null(median.Upper95);
    }

    [Fact]
    public void Nothing_is_said_beyond_the_last_time()
    {
        SurvivalCurve curve = KaplanMeier.Fit([1, 2, 3], [true, true, false]);
        Assert.NotNull(curve.At(3).Value);
        Assert.Contains("beyond", curve.At(3.5).Withheld);
        Assert.Contains("beyond", curve.RestrictedMean(4).Withheld);
        Assert.Contains("beyond", CumulativeIncidence.Fit([1, 2, 3], [1, 2, 0], 2).At(1, 4).Withheld);
        Assert.Contains("beyond", MeanCumulativeFunction.Fit([3, 4], []).At(4.1).Withheld);

        // A curve that has come down to 0 stays there.
        Assert.Equal(0.0, KaplanMeier.Fit([1, 2], [true, true]).At(9).Get());
    }

    [Fact]
    public void No_subjects_no_figures()
    {
        Assert.NotNull(KaplanMeier.Fit([], []).At(1).Withheld);
        Assert.NotNull(KaplanMeier.Fit([], []).Quantile(0.5).Withheld);
        Assert.NotNull(MeanCumulativeFunction.Fit([], []).At(0).Withheld);
        Assert.NotNull(LogRank.Test([1, 2], [true, true], [0, 0]).Withheld);
    }

    [Fact]
    public void Bad_data_are_errors()
    {
        Assert.Throws<ArgumentException>(() => KaplanMeier.Fit([1, double.NaN], [true, true]));
        Assert.Throws<ArgumentException>(() => KaplanMeier.Fit([-1], [true]));
        Assert.Throws<ArgumentException>(() => CumulativeIncidence.Fit([1, 2], [1], 1));
        Assert.Throws<ArgumentOutOfRangeException>(() => CumulativeIncidence.Fit([1], [3], 2));
        Assert.Throws<ArgumentException>(() => MeanCumulativeFunction.Fit([1], [new RecurrentEvent(0, 2, 1)]));
        Assert.Throws<ArgumentException>(() => MeanCumulativeFunction.Fit([1], [new RecurrentEvent(1, 0.5, 1)]));
    }

    [Fact]
    public void Exponential_fit_is_events_over_time()
    {
        // Closed form: mean life = total time/events, SE of its logarithm = 1/√events.
        double[] times = [3.0, 5.5, 1.2, 9.0, 9.0, 2.2];
        bool[] events = [true, true, true, false, false, true];
        CensoredFitResult fit = CensoredFit.Fit(LifetimeFamily.Exponential, times, events);
        Assert.Equal(times.Sum() / 4.0, fit.CharacteristicLife.Get(), 1e-9);
        Assert.Equal(0.5, fit.Coefficients[0].StandardError!.Value, 1e-9);
    }

    [Fact]
    public void Lognormal_fit_without_censoring_is_mean_and_deviation_of_the_logarithms()
    {
        double[] times = [3.0, 5.5, 1.2, 9.0, 4.4, 2.2, 7.1];
        double[] logs = [.. times.Select(t => Math.Log(t))];
        CensoredFitResult fit = CensoredFit.Fit(LifetimeFamily.Lognormal, times, [.. times.Select(_ => true)]);
        Assert.Equal(logs.Average(), fit.Coefficients[0].Get(), 1e-10);
        double spread = Math.Sqrt(logs.Average(l => (l - logs.Average()) * (l - logs.Average())));
        Assert.Equal(spread, fit.Scale.Get(), 1e-10);
    }

    [Fact]
    public void Weibull_fit_follows_a_change_of_unit()
    {
        double[] times = [54, 187, 216, 240, 244, 335, 361, 373, 375, 386, 500, 500, 500];
        bool[] events = [.. times.Select(t => t < 500)];
        CensoredFitResult hours = CensoredFit.Fit(LifetimeFamily.Weibull, times, events);
        CensoredFitResult seconds = CensoredFit.Fit(LifetimeFamily.Weibull, [.. times.Select(t => 3600 * t)], events);
        Assert.Equal(hours.WeibullShape.Get(), seconds.WeibullShape.Get(), 1e-9);
        Assert.Equal(3600 * hours.CharacteristicLife.Get(), seconds.CharacteristicLife.Get(), 1e-6 * seconds.CharacteristicLife.Get());
        Assert.Equal(hours.LogLikelihood - (10 * Math.Log(3600)), seconds.LogLikelihood, 1e-9);
        Assert.Equal(3600 * hours.Quantile(0.1).Lower95!.Value, seconds.Quantile(0.1).Lower95!.Value, 1e-6 * seconds.Quantile(0.1).Get());
    }

    [Fact]
    public void Fits_that_cannot_be_made_are_refused()
    {
        Assert.Contains("too few", CensoredFit.Fit(LifetimeFamily.Weibull, [1, 2, 3], [false, false, true]).Withheld);
        Assert.Contains("not above zero", CensoredFit.Fit(LifetimeFamily.Weibull, [0, 2, 3], [true, true, true]).Withheld);
        Assert.NotNull(CensoredFit.Fit(LifetimeFamily.Lognormal, [2, 2, 2, 2], [true, true, true, true]).Withheld);
        double[,] twins = { { 1, 2 }, { 2, 4 }, { 3, 6 }, { 4, 8 }, { 5, 10 }, { 7, 14 } };
        CensoredFitResult singular = CensoredFit.Fit(LifetimeFamily.Weibull, [3, 1, 4, 1.5, 9, 2.6], [true, true, true, true, true, true], twins);
        Assert.Contains("singular", singular.Withheld);
        Assert.NotNull(singular.Quantile(0.1, 1, 2).Withheld);
        Assert.NotNull(singular.CharacteristicLife.Withheld);
        Assert.NotNull(singular.WeibullShape.Withheld);
    }
}
