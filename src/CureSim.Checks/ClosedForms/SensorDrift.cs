using CureSim.Checks.Comparing;
using CureSim.Checks.Fixtures;
using CureSim.Core.Distributions;
using CureSim.Core.Numerics;
using static CureSim.Checks.Fixtures.Uncertain;

namespace CureSim.Checks.ClosedForms;

/// <summary>The loop copies its sensor's drift into the product: output e^(−drift·t) since the last setting, whatever the emitter does.</summary>
internal static class SensorDrift
{
    private const double Step = 28800;

    public static IEnumerable<Check> Exact()
    {
        yield return Fixed("CF-SENSOR-1", driftPerStep: 2e-4, interval: 0);
        yield return Fixed("CF-SENSOR-2", driftPerStep: -3e-4, interval: 0);
        yield return Fixed("CF-SENSOR-3", driftPerStep: 5e-4, interval: 15);
        yield return Fixed("CF-SENSOR-4", driftPerStep: 4e-4, interval: 20);
    }

    public static IEnumerable<SampledCheck> All()
    {
        yield return Varied("CF-SENSOR-SD-1", 521, sdPerStep: 5e-4, steps: 100);
        yield return Varied("CF-SENSOR-SD-2", 522, sdPerStep: 2e-3, steps: 60);
    }

    private static Check Fixed(string id, double driftPerStep, int interval) => new(
        id, Topics.ClosedForm,
        FormattableString.Invariant($"Sensor drift of {driftPerStep} a step under the loop, {(interval > 0 ? $"set every {interval} steps" : "never set")}: output at every step"),
        "e^(−drift·t) since the last setting", Provenances.ClosedForm, CheckKind.Deterministic, ThroughEngine: true,
        () =>
        {
            var cell = new ScenarioBuilder().Clock(Step, 90).ExponentialAgeing(300 * Step).OutputSensor(driftPerStep / Step).Drive(0.5).Irradiance(2e4);
            var trace = Simulated.Trace((interval > 0 ? cell.Checks(interval, 1e4, action: 1e-6, tolerance: 1e-6) : cell).Build());
            var found = new ExactComparison(1e-12, "a few dozen roundings of 1.1·10⁻¹⁶");
            for (int k = 0; k < 90; k++)
            {
                double since = (interval > 0 ? k % interval : k) + 0.5;
                found.Add($"output at the middle of step {k}", 1e4 * Math.Exp(-driftPerStep * since), trace.Steps[k].Sites[0].NominalIrradiance);
            }

            found.Plant("drift with the other sign", 1e4 * Math.Exp(driftPerStep * 10.5), trace.Steps[10].Sites[0].NominalIrradiance);
            return found.Outcome();
        });

    private static SampledCheck Varied(string id, ulong seed, double sdPerStep, int steps)
    {
        // At the middle of the last step ln dose is normal with sd s·t: mean e^(v/2), variance e^v(e^v − 1).
        double v = Math.Pow(sdPerStep * (steps - 0.5), 2), wrong = Math.Pow(sdPerStep, 2) * (steps - 0.5);
        return new(
            id, Topics.ClosedForm, FormattableString.Invariant($"Sensor drift drawn for each cell (sd {sdPerStep} a step): spread of dose at the end"),
            "ln dose normal with sd s·t", seed, "drift drawn anew at every step, sd s·√t",
            s =>
            {
                var run = Simulated.Run(new ScenarioBuilder().Clock(Step, steps).OutputSensor(Varying(new NormalDistribution(0, sdPerStep / Step))).Drive(0.5)
                    .Run(lifetimes: 3000, seed: s).Build());
                int last = run.Total.Layout.BinCount - 1; // a bin is a step when there are few
                return
                [
                    run.BatchMean("mean relative dose", Math.Exp(v / 2), u => u.ByBin[0, last].Mean / 5e3),
                    run.BatchMean(
                        "variance of relative dose", Math.Exp(v) * BlockMath.ExpMinusOne(v), u => u.ByBin[0, last].Variance / 2.5e7, Math.Exp(wrong) * BlockMath.ExpMinusOne(wrong)),
                ];
            });
    }
}
