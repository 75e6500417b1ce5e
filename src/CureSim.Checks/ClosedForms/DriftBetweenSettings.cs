using CureSim.Checks.Comparing;
using CureSim.Checks.Fixtures;
using CureSim.Core.Cell;
using CureSim.Core.Distributions;
using CureSim.Core.Numerics;
using static CureSim.Checks.Fixtures.Uncertain;

namespace CureSim.Checks.ClosedForms;

/// <summary>
/// ln dose drifts by κ between settings every T, parts scatter by σ about it, lower limit m below the target:
/// P̄ = (σ/κT)·[G(z_T) − G(z_0)], z = (κt − m)/σ, G(z) = zΦ(z) + φ(z). A setting by a meter of log error u makes σ → √(σ² + u²).
/// </summary>
internal static class DriftBetweenSettings
{
    private const double Step = 28800;
    private const int StepsBetween = 32;
    private const double Target = 5e3;

    public static IEnumerable<SampledCheck> All()
    {
        yield return Case("CF-DRIFT-1", 411, drift: 0.15, sd: 0.04, meter: 0.0, margin: 0.12, lifetimes: 512);
        yield return Case("CF-DRIFT-2", 412, drift: 0.10, sd: 0.03, meter: 0.0, margin: 0.13, lifetimes: 1024);
        yield return Case("CF-DRIFT-3", 413, drift: 0.12, sd: 0.03, meter: 0.03, margin: 0.13, lifetimes: 2048);
        yield return Case("CF-DRIFT-4", 414, drift: 0.08, sd: 0.02, meter: 0.04, margin: 0.13, lifetimes: 4096);
    }

    /// <summary>P̄ between settings.</summary>
    private static double Mean(double drift, double sd, double margin)
    {
        double G(double z) => (z * BlockMath.NormalCdf(z)) + BlockMath.NormalDensity(z);
        return sd / drift * (G((drift - margin) / sd) - G(-margin / sd));
    }

    private static SampledCheck Case(string id, ulong seed, double drift, double sd, double meter, double margin, int lifetimes)
    {
        double both = Math.Sqrt((sd * sd) + (meter * meter));
        double expected = 1e6 * Mean(drift, both, margin);

        // The engine judges each step at its middle: the midpoint rule in place of the integral.
        double midpoints = Enumerable.Range(0, StepsBetween).Average(k => 1e6 * BlockMath.NormalCdf((((k + 0.5) * drift / StepsBetween) - margin) / both));
        double allowance = Math.Abs(midpoints - expected);
        double wrong = meter > 0 ? 1e6 * Mean(drift, sd, margin) : 1e6 * 0.5 * (BlockMath.NormalCdf(-margin / sd) + BlockMath.NormalCdf((drift - margin) / sd));
        return new(
            id, Topics.ClosedForm,
            FormattableString.Invariant($"Log dose drifts by {drift} between settings, parts scatter by {sd}{(meter > 0 ? ", set by a meter of error " : string.Empty)}{(meter > 0 ? meter : null)}: nonconforming fraction"),
            "integral of Φ((κt − m)/σ) over the interval", seed, meter > 0 ? "the meter's error left out" : "mean of the two ends in place of the integral",
            s =>
            {
                var run = Simulated.Analysis(new ScenarioBuilder().Clock(Step, 4 * StepsBetween).Irradiance(4 * Target)
                    .ExponentialAgeing(StepsBetween * Step / drift).Ripple(Varying(new NormalDistribution(0, sd)))
                    .Checks(StepsBetween, Target, action: 1e-6, tolerance: 1e-6)
                    .Radiometer(repeatability: meter > 0 ? Varying(new NormalDistribution(0, meter)) : 0.0)
                    .Limit(Response.Dose, Target * Math.Exp(-margin)).Run(lifetimes: lifetimes, partsAStep: 4, seed: s).Build());
                return
                [
                    Sample.Of("counted ppm", expected, run.Figure("bonds_nonconforming_counted_ppm"), wrong, allowance),
                    Sample.Of("conditional ppm", expected, run.Figure("bonds_nonconforming_conditional_ppm"), wrong, allowance),
                ];
            },
            FormattableString.Invariant($"{allowance:G2} ppm, the midpoint rule's difference from the integral over {StepsBetween} steps"));
    }
}
