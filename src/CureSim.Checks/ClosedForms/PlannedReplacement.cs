using CureSim.Checks.Comparing;
using CureSim.Checks.Fixtures;
using CureSim.Core.Distributions;
using CureSim.Engine.Block;
using static CureSim.Checks.Fixtures.Uncertain;

namespace CureSim.Checks.ClosedForms;

/// <summary>Planned replacement at age T before sudden Weibull failures: a proportion F(T) of replacements is unplanned, a cycle lasts ∫₀ᵀR in the mean.</summary>
/// <remarks>
/// Cycles that started before horizon − 2T, so that long ones are not left out. A planned replacement waits for the end of its step, so a cycle that
/// began with a failure inside a step lasts up to a step longer than T: the allowance is what a whole step would do to those.
/// </remarks>
internal static class PlannedReplacement
{
    private const double Step = 28800;

    public static IEnumerable<SampledCheck> All()
    {
        yield return Case("CF-PLAN-1", 311, shape: 2.5, lifeSteps: 120, plannedSteps: 100);
        yield return Case("CF-PLAN-2", 312, shape: 1.6, lifeSteps: 100, plannedSteps: 60);
    }

    private static SampledCheck Case(string id, ulong seed, double shape, double lifeSteps, int plannedSteps)
    {
        double Failed(double t) => 1 - Math.Exp(-Math.Pow(t / lifeSteps, shape));
        double unplanned = Failed(plannedSteps), cycle = MeanLife(Failed, plannedSteps);
        double more = (Failed(plannedSteps + 1) - unplanned) * unplanned, longer = (1 - unplanned) * unplanned;
        return new(
            id, Topics.ClosedForm, FormattableString.Invariant($"Planned replacement at {plannedSteps} steps, Weibull failures of shape {shape}: unplanned proportion, mean cycle, rates"),
            "renewal-reward theorem: F(T) unplanned, mean cycle ∫₀ᵀR, rates F(T) and R(T) over it", seed, "exponential lives of the same mean",
            s =>
            {
                const int Lifetimes = 40;
                int steps = 60 * plannedSteps;
                var scenario = new ScenarioBuilder().Clock(Step, steps).Failure(Varying(new WeibullDistribution(shape, lifeSteps * Step)))
                    .ReplaceEmitterAt(plannedSteps * Step).Run(lifetimes: Lifetimes, seed: s).Build();
                var cycles = Simulated.Traces(scenario, Lifetimes).SelectMany(t => Cycles(t, (steps - (2 * plannedSteps)) * Step)).ToArray();
                double mean = new WeibullDistribution(shape, lifeSteps).Mean;
                var run = Simulated.Run(scenario with { Run = scenario.Run with { LifetimesPerWorld = 200, Seed = s + 1000 } });
                double horizon = steps;
                return
                [
                    Sample.Share("unplanned", unplanned, cycles.Count(c => !c.Planned), cycles.Length, 1 - Math.Exp(-plannedSteps / mean), more),
                    Sample.Mean("mean cycle, steps", cycle, [.. cycles.Select(c => c.Seconds / Step)], mean * (1 - Math.Exp(-plannedSteps / mean)), longer),
                    Sample.Mean("failures a step", unplanned / cycle, [.. run.Records.Select(r => r.EmittersFailed / horizon)], 1 / mean, ((more / unplanned) + (longer / cycle) + (1 / 60.0)) * unplanned / cycle),
                ];
            },
            "a step of waiting for planned replacements; rates hold to one cycle in the sixty of the horizon");
    }

    private static IEnumerable<(bool Planned, double Seconds)> Cycles(LifetimeTrace trace, double startsBefore)
    {
        double start = 0;
        foreach (var e in trace.Events.Where(e => e.What == "emitter failed" || (e.What == "emitter replaced" && e.Detail == "planned")))
        {
            if (start < startsBefore)
            {
                yield return (e.What == "emitter replaced", e.Seconds - start);
            }

            start = e.Seconds;
        }
    }

    private static double MeanLife(Func<double, double> failed, double to)
    {
        // ∫R by Simpson's rule; R is smooth and 2000 intervals leave nothing to see.
        const int Intervals = 2000;
        double h = to / Intervals, sum = 0;
        for (int i = 0; i <= Intervals; i++)
        {
            sum += (1 - failed(i * h)) * (i == 0 || i == Intervals ? 1 : i % 2 == 1 ? 4 : 2);
        }

        return sum * h / 3;
    }
}
