using CureSim.Checks.Comparing;
using CureSim.Checks.Fixtures;
using CureSim.Core.Distributions;
using CureSim.Engine.Plan;
using CureSim.Engine.Runs;
using static CureSim.Checks.Fixtures.Uncertain;

namespace CureSim.Checks.ClosedForms;

/// <summary>
/// Rate of a disturbance known only by e events in a time T, so Gamma(e + ½)/T over worlds: the count over t is negative binomial with mean
/// m = (e + ½)t/T, variance m(1 + t/T) and chance of none (1 + t/T)^(−(e + ½)).
/// </summary>
internal static class UnknownRate
{
    private const double Step = 28800;

    public static IEnumerable<SampledCheck> All()
    {
        yield return Case("CF-RATE-1", 561, events: 2, seen: 40, steps: 50);
        yield return Case("CF-RATE-2", 562, events: 6, seen: 100, steps: 40);
    }

    private static SampledCheck Case(string id, ulong seed, int events, double seen, int steps)
    {
        double shape = events + 0.5, ratio = steps / seen, mean = shape * ratio;
        return new(
            id, Topics.ClosedForm, FormattableString.Invariant($"{events} events seen in {seen} steps, unknown rate: count over {steps} steps in many worlds"),
            "Poisson with a gamma rate is negative binomial; Jeffreys' prior e + ½", seed, "the rate taken as known",
            s =>
            {
                const int Worlds = 5000;
                var plan = new RunPlan(new ScenarioBuilder().Clock(Step, steps)
                    .Disturbance("knock", Unknown(new GammaDistribution(shape, 1 / (seen * Step))), factor: 0.9999).Run(Worlds, seed: s).Build());
                double[] counts = [.. Enumerable.Range(0, Worlds).Select(w => (double)LocalRunner.Trace(plan, w, 0).Events.Count(e => e.What == "disturbance"))];
                double none = Math.Pow(1 + ratio, -shape);
                return
                [
                    Sample.Mean("mean", mean, counts),
                    Sample.Mean("variance", mean * (1 + ratio), [.. counts.Select(n => (n - mean) * (n - mean))], mean),
                    Sample.Share("chance of none", none, counts.Count(n => n == 0), Worlds, Math.Exp(-mean)),
                ];
            });
    }
}
