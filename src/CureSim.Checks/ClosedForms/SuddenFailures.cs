using CureSim.Checks.Comparing;
using CureSim.Checks.Fixtures;
using CureSim.Core.Distributions;
using static CureSim.Checks.Fixtures.Uncertain;

namespace CureSim.Checks.ClosedForms;

/// <summary>Emitters that fail suddenly: a Poisson process for exponential lives, a renewal process for Weibull lives.</summary>
internal static class SuddenFailures
{
    private const double Step = 28800;

    public static IEnumerable<SampledCheck> All()
    {
        yield return Exponential("CF-FAIL-EXP-1", 301, lifeSteps: 40.0, steps: 120);
        yield return Exponential("CF-FAIL-EXP-2", 302, lifeSteps: 2.5, steps: 20); // often several in one step of five
        yield return LongRun("CF-FAIL-WEI-1", 303, shape: 2.5, lifeSteps: 20.0, steps: 120, lifetimes: 4000);
        yield return LongRun("CF-FAIL-WEI-2", 304, shape: 0.8, lifeSteps: 5.0, steps: 60, lifetimes: 12000);
        yield return Early("CF-FAIL-REN-1", 305, shape: 3.0, lifeSteps: 50.0, steps: 70);
        yield return Early("CF-FAIL-REN-2", 306, shape: 1.5, lifeSteps: 30.0, steps: 45);
    }

    private static SampledCheck Exponential(string id, ulong seed, double lifeSteps, int steps)
    {
        double mean = steps / lifeSteps;
        return new(
            id, Topics.ClosedForm, FormattableString.Invariant($"Exponential failures over {mean} mean lives: mean, variance and chance of none"),
            "replacements are Poisson with mean t/η", seed, "the first emitter counted as a failure",
            s =>
            {
                double[] counts = Counts(new ExponentialDistribution(lifeSteps * Step), steps, s);
                return
                [
                    Sample.Mean("mean", mean, counts, mean + 1),
                    Sample.Mean("variance", mean, [.. counts.Select(n => (n - mean) * (n - mean))]),
                    Sample.Mean("chance of at most half the mean", Poisson(mean, (int)(mean / 2)), [.. counts.Select(n => n <= (int)(mean / 2) ? 1.0 : 0.0)]),
                ];
            });
    }

    private static SampledCheck LongRun(string id, ulong seed, double shape, double lifeSteps, int steps, int lifetimes)
    {
        var law = new WeibullDistribution(shape, lifeSteps);
        double mean = law.Mean, cv = law.StandardDeviation / law.Mean;
        double expected = (steps / mean) + (((cv * cv) - 1) / 2);
        return new(
            id, Topics.ClosedForm, FormattableString.Invariant($"Weibull failures of shape {shape} over a long time: mean number"),
            "renewal theorem: N(t) ≈ t/μ + (CV² − 1)/2", seed, "the second term left out",
            s => [Sample.Mean("mean", expected, Counts(new WeibullDistribution(shape, lifeSteps * Step), steps, s, lifetimes), steps / mean, Math.Abs(Renewals(law.Cdf, steps) - expected))],
            "what the theorem still lacks after this time, found from the renewal equation");
    }

    private static SampledCheck Early(string id, ulong seed, double shape, double lifeSteps, int steps)
    {
        double Failed(double t) => 1 - Math.Exp(-Math.Pow(t / lifeSteps, shape));
        return new(
            id, Topics.ClosedForm, FormattableString.Invariant($"Weibull failures of shape {shape} over a short time: mean number"),
            "renewal equation m(t) = F(t) + ∫m(t − x)dF(x), solved numerically", seed, "first failures only, F(t)",
            s => [Sample.Mean("mean", Renewals(Failed, steps), Counts(new WeibullDistribution(shape, lifeSteps * Step), steps, s), Failed(steps))]);
    }

    private static double[] Counts(IDistribution life, int steps, ulong seed, int lifetimes = 8000) =>
        [.. Simulated.Run(new ScenarioBuilder().Clock(Step, steps).Failure(Varying(life)).Run(lifetimes: lifetimes, seed: seed).Build())
            .Records.Select(r => (double)r.EmittersFailed)];

    private static double Poisson(double mean, int most)
    {
        double term = Math.Exp(-mean), sum = term;
        for (int k = 1; k <= most; k++)
        {
            term *= mean / k;
            sum += term;
        }

        return sum;
    }

    /// <summary>
    /// m(t) by the Riemann–Stieltjes midpoint method (M. Xie, Commun. Statist. Simulation 18 (1989) 281, recalled from memory); 1000 intervals leave
    /// an error of a few 10⁻⁶.
    /// </summary>
    private static double Renewals(Func<double, double> failed, double t)
    {
        const int Intervals = 1000;
        double h = t / Intervals, first = failed(0.5 * h);
        double[] m = new double[Intervals + 1];
        for (int i = 1; i <= Intervals; i++)
        {
            double sum = failed(i * h) - (m[i - 1] * first);
            for (int j = 1; j < i; j++)
            {
                sum += (m[j] - m[j - 1]) * failed((i - j + 0.5) * h);
            }

            m[i] = sum / (1 - first);
        }

        return m[^1];
    }
}
