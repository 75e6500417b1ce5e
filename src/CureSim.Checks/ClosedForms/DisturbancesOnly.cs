using CureSim.Checks.Comparing;
using CureSim.Checks.Fixtures;
using CureSim.Core.Cell;

namespace CureSim.Checks.ClosedForms;

/// <summary>
/// Disturbances alone, rate λ at each of n sites, put right at checks every T: as found in tolerance with probability e^(−nλT); out and undetected
/// 1 − (1 − e^(−nλT))/(nλT) of the time. Exact also when T is one step, because arrivals have times of their own.
/// </summary>
internal static class DisturbancesOnly
{
    private const double Step = 28800;

    public static IEnumerable<SampledCheck> All()
    {
        yield return Case("CF-DIST-1", 401, sites: 3, interval: 1, ratePerStep: 0.2, wholeCell: false);
        yield return Case("CF-DIST-2", 402, sites: 2, interval: 5, ratePerStep: 0.06, wholeCell: false);
        yield return Case("CF-DIST-3", 403, sites: 4, interval: 8, ratePerStep: 0.04, wholeCell: true);
    }

    private static SampledCheck Case(string id, ulong seed, int sites, int interval, double ratePerStep, bool wholeCell)
    {
        double x = (wholeCell ? 1 : sites) * ratePerStep * interval;
        double good = Math.Exp(-x), undetected = 1 - ((1 - Math.Exp(-x)) / x);
        return new(
            id, Topics.ClosedForm,
            FormattableString.Invariant($"Disturbances only, {sites} sites{(wholeCell ? " knocked together" : string.Empty)}, checks every {interval} steps: as found in tolerance, time out undetected"),
            "first arrival of a Poisson process in an interval", seed, "rate of a site half as high",
            s =>
            {
                var run = Simulated.Analysis(new ScenarioBuilder().Clock(Step, 40 * interval).Sites(sites).OneEmitterASite()
                    .Checks(interval, 6e3, action: 0.01, tolerance: 0.02, fixtureCheck: true).Limit(Response.Dose, 5e3, 2e4)
                    .Disturbance("knock", ratePerStep / Step, factor: 0.5, clearedBy: ClearedBy.FixtureCheck, wholeCell: wholeCell)
                    .Run(lifetimes: 300, seed: s).Build());
                double half = x / 2;
                return
                [
                    Sample.Of("as found in tolerance %", 100 * good, run.Figure("found_leave_percent"), 100 * Math.Exp(-half)),
                    Sample.Of("undetected time out %", 100 * undetected, run.Figure("time_out_undetected_percent"), 100 * (1 - ((1 - Math.Exp(-half)) / half))),
                    Sample.Of("undetected time outside the window %", 100 * undetected, run.Figure("time_outside_window_undetected_percent")),
                ];
            });
    }
}
