using CureSim.Checks.Comparing;
using CureSim.Checks.Fixtures;
using CureSim.Core.Cell;

namespace CureSim.Checks.ClosedForms;

/// <summary>Wander w = exp(x − σ²/2), x a stationary Ornstein–Uhlenbeck process: mean 1, log sd σ, correlation e^(−t/τ) at a lag t, for any step.</summary>
internal static class SlowWander
{
    private const double Step = 28800;

    public static IEnumerable<SampledCheck> All()
    {
        yield return Case("CF-WANDER-1", 511, sd: 0.1, timeSteps: 0.5, lag: 1);
        yield return Case("CF-WANDER-2", 512, sd: 0.1, timeSteps: 20, lag: 6);
        yield return Case("CF-WANDER-3", 513, sd: 0.03, timeSteps: 4, lag: 3);
    }

    private static SampledCheck Case(string id, ulong seed, double sd, double timeSteps, int lag)
    {
        double difference = 2 * sd * sd * (1 - Math.Exp(-lag / timeSteps));
        double wrong = 2 * sd * sd * (1 - Math.Exp(-lag / (2 * timeSteps)));
        return new(
            id, Topics.ClosedForm,
            FormattableString.Invariant($"Wander of {sd} with a time of {timeSteps} steps: mean, log spread at the start and the end, mean square of the difference {lag} steps apart"),
            "stationary Ornstein–Uhlenbeck process: mean square of a difference 2σ²(1 − e^(−t/τ))", seed, "a correlation time twice as long",
            s =>
            {
                const int Lifetimes = 5000;
                var scenario = new ScenarioBuilder().Clock(Step, 9).Wander(sd, timeSteps * Step, false).Run(lifetimes: Lifetimes, seed: s).Build();
                double[][] x =
                [
                    .. Simulated.Traces(scenario, Lifetimes)
                        .Select(t => t.Steps.Select(k => Math.Log(k.Sites[0].NominalIrradiance / 1e4) + (sd * sd / 2)).ToArray()),
                ];
                return
                [
                    Sample.Mean("mean", 1, [.. x.Select(v => Math.Exp(v[^1] - (sd * sd / 2)))]),
                    Sample.Mean("log variance at the start", sd * sd, [.. x.Select(v => v[0] * v[0])]),
                    Sample.Mean("log variance at the end", sd * sd, [.. x.Select(v => v[^1] * v[^1])]),
                    Sample.Mean("mean square of a difference", difference, [.. x.Select(v => (v[2 + lag] - v[2]) * (v[2 + lag] - v[2]))], wrong),
                ];
            });
    }
}
