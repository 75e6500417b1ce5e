using CureSim.Checks.Comparing;
using CureSim.Checks.Fixtures;
using CureSim.Core.Cell;
using CureSim.Core.Distributions;
using CureSim.Core.Numerics;
using CureSim.Core.Summaries;
using static CureSim.Checks.Fixtures.Uncertain;

namespace CureSim.Checks.ClosedForms;

/// <summary>Every factor lognormal: ln dose is normal, medians multiply, variances of the logarithms add, whatever the level at which each is drawn.</summary>
internal static class LognormalChain
{
    private const double Step = 28800;
    private const double Z = 2.9999769927033931; // −Φ⁻¹(0.00135)

    public static IEnumerable<SampledCheck> All()
    {
        // A lamp with a guide: emitter (E0 and wander), guide, set-up, substrate lot and part each bring a variance of their own.
        double e0 = Math.Log(1.05), wander = 0.02, guide = 0.03, reseat = 0.02, slab = 1e-3 * 30, ripple = 0.04;
        yield return Case(
            "CF-LOGN-1", "lamp, guide, set-up, substrate lot and ripple", 101,
            new ScenarioBuilder().Clock(Step, 32)
                .Irradiance(Varying(new LognormalDistribution(1e4, 1.05))).Wander(wander, 3 * Step, false).ReplaceEmitterAt(2 * Step)
                .Guide(Log(guide), reseat: Log(reseat), lit: LitDuring.WholeShift, replaceAtLitSeconds: 3 * Step)
                .Substrate(0.0, 1e-3, Varying(new NormalDistribution(200, 30)), lotSteps: 1).Ripple(Log(ripple)),
            Math.Exp((-wander * wander / 2) - 0.2),
            new()
            {
                [VarianceSource.SourceAsHeld] = (e0 * e0) + (wander * wander),
                [VarianceSource.Guide] = guide * guide,
                [VarianceSource.Setup] = reseat * reseat,
                [VarianceSource.SubstrateLot] = slab * slab,
                [VarianceSource.Part] = ripple * ripple,
            },
            (2.0, 2.2));

        // Three heads of their own; the exposure time itself is lognormal (median 2 s) beside a setting of a nanosecond.
        double head = Math.Log(1.08), own = 0.02, time = Math.Log(1.03);
        yield return Case(
            "CF-LOGN-2", "three heads, own ripple, lognormal exposure time", 102,
            new ScenarioBuilder().Clock(Step, 16).Sites(3, 1).OneEmitterASite()
                .Irradiance(Varying(new LognormalDistribution(1e4, 1.08))).ReplaceEmitterAt(Step)
                .Ripple(Log(own)).Exposure(1e-9, error: Varying(new LognormalDistribution(2, 1.03))),
            2.0,
            new() { [VarianceSource.SourceAsHeld] = head * head, [VarianceSource.Part] = (own * own) + (time * time) },
            (2.1, 1.8));
    }

    private static SampledCheck Case(
        string id, string what, ulong seed, ScenarioBuilder cell, double median, Dictionary<VarianceSource, double> variances, (double Low, double High) limits)
    {
        double sd = Math.Sqrt(variances.Values.Sum());
        double sum = variances.Values.Sum(Math.Sqrt);
        double outside = 1e6 * (BlockMath.NormalCdf(-limits.Low) + BlockMath.NormalCdf(-limits.High));
        double outsideWrong = 1e6 * (BlockMath.NormalCdf(-limits.Low * sd / sum) + BlockMath.NormalCdf(-limits.High * sd / sum));
        return new(
            id, Topics.ClosedForm, $"Every factor lognormal ({what}): percentiles of dose, fraction outside, proportion of each level",
            "ln H is normal: medians multiply, variances of the logarithms add", seed, "standard deviations added in place of variances",
            s =>
            {
                var run = Simulated.Analysis(cell.Limit(Response.Dose, 1e4 * median * Math.Exp(-limits.Low * sd), 1e4 * median * Math.Exp(limits.High * sd))
                    .Run(lifetimes: 4096, partsAStep: 2, seed: s).Build());
                return
                [
                    Sample.Of("X0.135 J/cm²", median * Math.Exp(-Z * sd), run.Figure("dose_x0_135_j_per_cm2"), median * Math.Exp(-Z * sum)),
                    Sample.Of("X50 J/cm²", median, run.Figure("dose_x50_j_per_cm2")),
                    Sample.Of("X99.865 J/cm²", median * Math.Exp(Z * sd), run.Figure("dose_x99_865_j_per_cm2"), median * Math.Exp(Z * sum)),
                    Sample.Of("counted outside ppm", outside, run.Figure("bonds_nonconforming_counted_ppm"), outsideWrong),
                    Sample.Of("conditional outside ppm", outside, run.Figure("bonds_nonconforming_conditional_ppm"), outsideWrong),
                    .. variances.Select(v => run.Result.BatchMean(
                        $"share of {v.Key}", v.Value / (sd * sd), u => u.Shares.Covariance(v.Key) / u.Shares.Variance, Math.Sqrt(v.Value) / sum)),
                ];
            });
    }

    private static Uncertain Log(double sd) => Varying(new NormalDistribution(0, sd));
}
