using CureSim.Checks.Comparing;
using CureSim.Checks.Fixtures;
using CureSim.Core.Cell;
using CureSim.Core.Distributions;
using CureSim.Core.Numerics;
using static CureSim.Checks.Fixtures.Uncertain;

namespace CureSim.Checks.ClosedForms;

/// <summary>
/// k heads against one lamp with k legs, exposure time fixed: the highest of k heads lies below a level with probability F^k, the lowest with
/// 1 − (1 − F)^k; the legs of one lamp share its factor, so that all or none lie outside.
/// </summary>
internal static class HeadsAndLegs
{
    private const double Step = 28800;

    public static IEnumerable<SampledCheck> All()
    {
        yield return Case("CF-HEADS-1", 531, k: 4, limit: -2.0, heads: true);
        yield return Case("CF-HEADS-2", 532, k: 8, limit: 1.8, heads: true);
        yield return Case("CF-LEGS-1", 533, k: 4, limit: -2.0, heads: false);
        yield return Case("CF-LEGS-2", 534, k: 8, limit: 1.8, heads: false);
    }

    private static SampledCheck Case(string id, ulong seed, int k, double limit, bool heads)
    {
        const double Gsd = 1.06;
        double one = BlockMath.NormalCdf(-Math.Abs(limit)), any = 1 - Math.Pow(1 - one, k), level = 1e4 * Math.Pow(Gsd, limit);
        double parts = 1e6 * (heads ? any : one), wrong = 1e6 * (heads ? one : any);
        return new(
            id, Topics.ClosedForm,
            $"{k} {(heads ? "heads" : "legs of one lamp")}, one part: {(limit < 0 ? "lowest site below" : "highest site above")} a limit, and one site",
            heads ? (limit < 0 ? "lowest of k: 1 − (1 − F)^k" : "highest of k: F^k") : "legs share the emitter's factor", seed,
            heads ? "heads that share one factor" : "legs that are independent",
            s =>
            {
                var cell = new ScenarioBuilder().Clock(Step, 8).Sites(k).Irradiance(Varying(new LognormalDistribution(1e4, Gsd))).ReplaceEmitterAt(Step)
                    .Guide().Limit(Response.Dose, limit < 0 ? level : null, limit > 0 ? level : null).Run(lifetimes: heads ? 2000 : 6000, seed: s);
                var run = Simulated.Analysis((heads ? cell.OneEmitterASite() : cell).Build());
                return
                [
                    Sample.Of("parts ppm", parts, run.Figure("parts_nonconforming_counted_ppm"), wrong),
                    Sample.Of("bonds ppm", 1e6 * one, run.Figure("bonds_nonconforming_counted_ppm")),
                ];
            });
    }
}
