using CureSim.Checks.Comparing;
using CureSim.Checks.Fixtures;
using CureSim.Core.Distributions;
using static CureSim.Checks.Fixtures.Uncertain;

namespace CureSim.Checks.ClosedForms;

/// <summary>Successive calibrations of a radiometer with persistence ρ: errors j calibrations apart are correlated by ρ^j; the meter's own error does not change.</summary>
internal static class CalibrationPersistence
{
    private const double Step = 28800;
    private const double Target = 5e3;

    public static IEnumerable<SampledCheck> All()
    {
        yield return Case("CF-CAL-1", 551, rho: 0.6, sd: 0.02);
        yield return Case("CF-CAL-2", 552, rho: 0.9, sd: 0.03);
    }

    private static SampledCheck Case(string id, ulong seed, double rho, double sd) => new(
        id, Topics.ClosedForm, FormattableString.Invariant($"Calibration errors with persistence {rho}, seen in the dose after each setting: spread and correlation"),
        "autoregression of normal scores: mean square of a difference 2u²(1 − ρ^j)", seed, "correlation ρ whatever the number of calibrations between",
        s =>
        {
            // Calibrated, then checked and set, at the end of every step: the dose of step k carries the error of calibration k.
            const int Lifetimes = 5000;
            var scenario = new ScenarioBuilder().Clock(Step, 5).Irradiance(4 * Target).Checks(1, Target, action: 1e-6, tolerance: 1e-6)
                .Radiometer(calibration: Varying(new NormalDistribution(0, sd)), persistence: rho, calibrationSteps: 1).Run(lifetimes: Lifetimes, seed: s).Build();
            double[][] x = [.. Simulated.Traces(scenario, Lifetimes).Select(t => t.Bonds.Select(b => Math.Log(b.Dose / Target) / sd).ToArray())];
            return
            [
                Sample.Mean("variance at the first (in u²)", 1, [.. x.Select(v => v[0] * v[0])]),
                Sample.Mean("variance at the fifth (in u²)", 1, [.. x.Select(v => v[4] * v[4])]),
                .. Enumerable.Range(1, 4).Select(j => Sample.Mean(
                    $"mean square of a difference, {j} apart", 2 * (1 - Math.Pow(rho, j)), [.. x.Select(v => (v[j] - v[0]) * (v[j] - v[0]))], j == 4 ? 2 * (1 - rho) : null)),
            ];
        });
}
