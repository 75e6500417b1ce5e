using CureSim.Checks.Comparing;
using CureSim.Checks.Fixtures;
using CureSim.Core.Cell;
using CureSim.Core.Distributions;
using CureSim.Core.Summaries;
using static CureSim.Checks.Fixtures.Uncertain;

namespace CureSim.Checks.ClosedForms;

/// <summary>Aim x, y ~ N(0, σ²) in a Gaussian beam of 1/e² radius w: the factor is U^(4σ²/w²), mean 1/(1 + 4σ²/w²), mean square 1/(1 + 8σ²/w²).</summary>
internal static class AimInABeam
{
    private const double Step = 28800;

    public static IEnumerable<SampledCheck> All()
    {
        yield return Case("CF-AIM-PART-1", 501, 0.5e-3, 4e-3, setup: false);
        yield return Case("CF-AIM-PART-2", 502, 1.0e-3, 3e-3, setup: false);
        yield return Case("CF-AIM-SETUP-1", 503, 0.6e-3, 4e-3, setup: true);
        yield return Case("CF-AIM-SETUP-2", 504, 1.2e-3, 5e-3, setup: true);
    }

    private static SampledCheck Case(string id, ulong seed, double sd, double radius, bool setup)
    {
        double c = 4 * sd * sd / (radius * radius);
        return new(
            id, Topics.ClosedForm,
            FormattableString.Invariant($"Aim of {1e3 * sd:G3} mm an axis in a Gaussian beam of {1e3 * radius:G3} mm, {(setup ? "drawn at each set-up" : "drawn for each part")}: mean and mean square of the factor"),
            "exp(−2ρ²/w²) with ρ² = −2σ² ln U", seed, "the spread taken along one axis only",
            s =>
            {
                var aim = Varying(new NormalDistribution(0, sd));
                var cell = setup
                    ? new ScenarioBuilder().Aim(new GaussianBeam(radius, 2), setup: aim).ReplaceEmitterAt(Step)
                    : new ScenarioBuilder().Aim(new GaussianBeam(radius, 2), part: aim);
                var run = Simulated.Run(cell.Clock(Step, 16).Run(lifetimes: 2048, partsAStep: setup ? 1 : 4, seed: s).Build());

                // One axis only: exp(−2x²/w²) has mean (1 + c)^(−½).
                return
                [
                    run.BatchMean("mean", 1 / (1 + c), u => Dose(u).Mean / 1e4, 1 / Math.Sqrt(1 + c)),
                    run.BatchMean("mean square", 1 / (1 + (2 * c)), u => ((Dose(u).M2 / Dose(u).Count) + (Dose(u).Mean * Dose(u).Mean)) / 1e8, 1 / Math.Sqrt(1 + (2 * c))),
                ];
            });
    }

    private static Moments Dose(CellSummary summary) => summary.BySite[0, 0];
}
