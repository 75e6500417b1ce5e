using System.Diagnostics;
using CsCheck;
using CureSim.Core.Random;
using CureSim.Core.Statistics;

namespace CureSim.Tests.Statistics;

/// <summary>Laws that the survival estimates must obey on any data; a failure prints a seed that replays it.</summary>
public class SurvivalPropertyTests
{
    /// <summary>Ties on purpose: times are quarters. Cause 0 is a censoring.</summary>
    private static readonly Gen<(double Time, int Cause)[]> Subjects =
        Gen.Select(Gen.Int[0, 60].Select(q => q / 4.0), Gen.Int[0, 3]).Array[1, 60];

    private static readonly Gen<(double Time, int Cause)[]> Uncensored =
        Gen.Select(Gen.Int[0, 60].Select(q => q / 4.0), Gen.Int[1, 3]).Array[1, 60];

    private static readonly Gen<(double End, double[] Times)[]> Histories =
        Gen.Select(Gen.Int[1, 40].Select(q => q / 2.0), Gen.Double[0.0, 1.0].Array[0, 6]).Array[2, 20]
            .Select(units => units.Select(u => (u.Item1, u.Item2.Select(f => Math.Round(f * u.Item1, 2)).ToArray())).ToArray());

    [Fact]
    public void Incidences_and_survival_sum_to_one() => Subjects.Sample(s =>
    {
        var (times, causes) = Split(s);
        CumulativeIncidence all = CumulativeIncidence.Fit(times, causes, 3);
        SurvivalCurve curve = KaplanMeier.Fit(times, [.. causes.Select(c => c > 0)]);
        foreach (SurvivalStep step in curve.Steps)
        {
            double sum = Enumerable.Range(1, 3).Sum(k => all.At(k, step.Time).Get());

            // 1e-12: at most 60 steps of rounding at 1e-16 each, with room.
            Assert.Equal(1.0 - step.Survival, sum, 1e-12);
            Assert.Equal(step.Survival, all.SurvivalAt(step.Time));
        }

        Assert.Equal(curve.Steps.Select(x => x.Time), all.Times);
    });

    [Fact]
    public void One_minus_a_curve_for_each_cause_overstates()
    {
        // The mistake the incidences avoid: treating other causes as censorings. On the same data its sum must exceed 1 − S.
        double[] times = [1, 2, 3, 4, 5, 6, 7, 8, 9, 10];
        int[] causes = [1, 2, 1, 2, 0, 1, 2, 1, 2, 0];
        double naive = Enumerable.Range(1, 2).Sum(k => 1.0 - KaplanMeier.Fit(times, [.. causes.Select(c => c == k)]).At(9).Get());
        double right = 1.0 - KaplanMeier.Fit(times, [.. causes.Select(c => c > 0)]).At(9).Get();
        Assert.True(naive > right + 0.2, FormattableString.Invariant($"naive {naive}, right {right}"));
    }

    [Fact]
    public void One_cause_has_the_error_of_Greenwood() => Subjects.Sample(s =>
    {
        var (times, causes) = Split(s);
        int[] one = [.. causes.Select(c => Math.Min(c, 1))];
        CumulativeIncidence incidence = CumulativeIncidence.Fit(times, one, 1);
        SurvivalCurve curve = KaplanMeier.Fit(times, [.. one.Select(c => c > 0)]);
        foreach (SurvivalStep step in curve.Steps.Where(x => x.GreenwoodSum is not null))
        {
            // The root of a variance that rounding leaves at 1e-17 of its terms: 1e-8.
            Assert.Equal(step.Survival * Math.Sqrt(step.GreenwoodSum!.Value), incidence.At(1, step.Time).StandardError!.Value, 1e-8);
        }
    });

    [Fact]
    public void Without_censoring_the_curves_are_the_empirical_ones() => Uncensored.Sample(s =>
    {
        var (times, causes) = Split(s);
        double n = times.Length;
        SurvivalCurve curve = KaplanMeier.Fit(times, [.. causes.Select(_ => true)]);
        CumulativeIncidence all = CumulativeIncidence.Fit(times, causes, 3);
        foreach (double t in times.Distinct())
        {
            double beyond = times.Count(x => x > t) / n;
            Estimate found = curve.At(t);
            Assert.Equal(beyond, found.Get(), 1e-12);
            if (beyond > 0.0)
            {
                Assert.Equal(Math.Sqrt(beyond * (1.0 - beyond) / n), found.StandardError!.Value, 1e-8);
            }

            for (int k = 1; k <= 3; k++)
            {
                double share = s.Count(x => x.Time <= t && x.Cause == k) / n;
                Assert.Equal(share, all.At(k, t).Get(), 1e-12);
                Assert.Equal(Math.Sqrt(share * (1.0 - share) / n), all.At(k, t).StandardError!.Value, 1e-8);
            }
        }
    });

    [Fact]
    public void Order_of_subjects_does_not_matter_and_doubling_halves_the_variance() => Subjects.Sample(s =>
    {
        var (times, causes) = Split(s);
        bool[] events = [.. causes.Select(c => c > 0)];
        SurvivalCurve curve = KaplanMeier.Fit(times, events);
        SurvivalCurve reversed = KaplanMeier.Fit([.. times.Reverse()], [.. events.AsEnumerable().Reverse()]);
        Assert.Equal(curve.Steps, reversed.Steps);
        SurvivalCurve twice = KaplanMeier.Fit([.. times, .. times], [.. events, .. events]);
        foreach (var (one, two) in curve.Steps.Zip(twice.Steps))
        {
            Assert.Equal(one.Survival, two.Survival, 1e-13);
            Assert.Equal(2 * one.AtRisk, two.AtRisk);
            if (one.GreenwoodSum is double g)
            {
                Assert.Equal(0.5 * g, two.GreenwoodSum!.Value, 1e-12 * (1.0 + g));
            }
        }
    });

    [Fact]
    public void Restricted_mean_is_the_area_and_without_censoring_the_mean() => Uncensored.Sample(s =>
    {
        var (times, causes) = Split(s);
        Estimate found = KaplanMeier.Fit(times, [.. causes.Select(_ => true)]).RestrictedMean(times.Max() + 1.0);
        double n = times.Length;
        double mean = times.Average();
        Assert.Equal(mean, found.Get(), 1e-11);
        double variance = times.Sum(t => (t - mean) * (t - mean)) / n;
        Assert.Equal(Math.Sqrt(variance / n), found.StandardError!.Value, 1e-7);
    });

    [Fact]
    public void Mean_cumulative_function_of_complete_histories_is_the_mean_count() => Histories.Sample(units =>
    {
        // All observed to the end: the robust variance is that of the counts (over n), divided by n.
        double[] ends = [.. units.Select(_ => 100.0)];
        List<RecurrentEvent> events = [.. units.SelectMany((u, i) => u.Times.Select(t => new RecurrentEvent(i, t, 1)))];
        MeanCumulativeFunction found = MeanCumulativeFunction.Fit(ends, events);
        foreach (double t in new[] { 0.0, 3.3, 12.0, 50.0 })
        {
            double[] counts = [.. units.Select(u => (double)u.Times.Count(x => x <= t))];
            double mean = counts.Average();
            Estimate e = found.At(t);
            Assert.Equal(mean, e.Get(), 1e-12);
            if (counts.Any(c => c > 0))
            {
                Assert.Equal(Math.Sqrt(counts.Sum(c => (c - mean) * (c - mean))) / counts.Length, e.StandardError!.Value, 1e-7);
            }
        }
    });

    [Fact]
    public void Mean_cumulative_variance_is_its_definition_unit_by_unit() => Histories.Sample(units =>
    {
        double[] ends = [.. units.Select(u => u.End)];
        List<RecurrentEvent> events = [.. units.SelectMany((u, i) => u.Times.Select(t => new RecurrentEvent(i, t, 1)))];
        MeanCumulativeFunction found = MeanCumulativeFunction.Fit(ends, events);
        if (found.Times.Count == 0)
        {
            return;
        }

        double last = found.Times[^1];
        double sum = 0.0;
        for (int i = 0; i < units.Length; i++)
        {
            double w = 0.0;
            foreach (double t in found.Times.Where(t => t <= ends[i]))
            {
                double n = ends.Count(e => e >= t);
                double d = events.Count(e => e.Time == t);
                w += (events.Count(e => e.Time == t && e.Unit == i) - (d / n)) / n;
            }

            sum += w * w;
        }

        Assert.Equal(Math.Sqrt(sum), found.At(last).StandardError!.Value, 1e-7);
        MeanCumulativeFunction shuffled = MeanCumulativeFunction.Fit(ends, events.AsEnumerable().Reverse());
        Assert.Equal(found.At(last).Get(), shuffled.At(last).Get(), 1e-13);
        Assert.Equal(found.At(last).StandardError!.Value, shuffled.At(last).StandardError!.Value, 1e-7);
    });

    [Fact]
    public void Causes_of_the_mean_cumulative_function_add_up() => Histories.Sample(units =>
    {
        double[] ends = [.. units.Select(u => u.End)];
        List<RecurrentEvent> events = [.. units.SelectMany((u, i) => u.Times.Select((t, j) => new RecurrentEvent(i, t, 1 + (j % 3))))];
        double at = ends.Max();
        double parts = Enumerable.Range(1, 3).Sum(k => MeanCumulativeFunction.Fit(ends, events, k).At(at).Get());
        Assert.Equal(MeanCumulativeFunction.Fit(ends, events).At(at).Get(), parts, 1e-11);
    });

    [Fact]
    public void Hundred_thousand_subjects_take_one_sort()
    {
        const int N = 100_000;
        var stream = StreamKey.Of(DrawDomain.Reserved, "test.survival");
        double[] times = new double[N];
        int[] causes = new int[N];
        for (int i = 0; i < N; i++)
        {
            times[i] = -Math.Log(Draw.Uniform(5, 0, (uint)i, stream, 0));
            causes[i] = (int)(4.0 * Draw.Uniform(5, 0, (uint)i, stream, 1));
        }

        var watch = Stopwatch.StartNew();
        CumulativeIncidence all = CumulativeIncidence.Fit(times, causes, 3);
        SurvivalCurve curve = KaplanMeier.Fit(times, [.. causes.Select(c => c > 0)]);
        MeanCumulativeFunction counts = MeanCumulativeFunction.Fit(times, times.Select((t, i) => new RecurrentEvent(i, 0.5 * t, 1 + causes[i])));
        double seconds = watch.Elapsed.TotalSeconds;
        Assert.Equal(1.0 - curve.At(1.0).Get(), Enumerable.Range(1, 3).Sum(k => all.At(k, 1.0).Get()), 1e-12);
        Assert.True(counts.At(1.0).Get() > 0.5);

        // Work that grows with the square of the number (10¹⁰ steps) would take far longer; linear work takes well under a second.
        Assert.True(seconds < 10.0, FormattableString.Invariant($"{seconds:0.0} s"));

        // Exponential competing causes of equal rate and censoring at the same rate: S = e^(−3t/4·…): causes 1 … 3 share 1 − S equally.
        Assert.Equal(all.At(1, 1.0).Get(), all.At(2, 1.0).Get(), 5.0 * all.At(1, 1.0).StandardError!.Value * Math.Sqrt(2.0));
    }

    private static (double[] Times, int[] Causes) Split((double Time, int Cause)[] subjects) =>
        ([.. subjects.Select(x => x.Time)], [.. subjects.Select(x => x.Cause)]);
}
