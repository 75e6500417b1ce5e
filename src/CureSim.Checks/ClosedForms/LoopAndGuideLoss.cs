using CureSim.Checks.Comparing;
using CureSim.Checks.Fixtures;
using CureSim.Core.Cell;
using CureSim.Core.Distributions;
using CureSim.Core.Numerics;
using CureSim.Studies.Runs;
using static CureSim.Checks.Fixtures.Uncertain;

namespace CureSim.Checks.ClosedForms;

/// <summary>
/// Emitter and guide both lose, the loop is set anew at every check: the headroom is used up when r(h)·e^(−λh) = 1/H, to the resolution of an interval.
/// </summary>
/// <remarks>
/// Exactly: between the checks at c·I and (c + 1)·I the loop makes up for the emitter only, so at the middle h of a step it is saturated when
/// α·h + λ·c·I &gt; ln H. A check leaves the cell short when α·cI + λ·cI &gt; ln H − ln(1 − action).
/// </remarks>
internal static class LoopAndGuideLoss
{
    private const double Step = 28800;

    public static IEnumerable<SampledCheck> All()
    {
        yield return Case("CF-SATG-1", 211, headroom: 1.5, alpha: 0.004, gsd: 1.4, lambda: 0.002, interval: 5, action: 0.04);
        yield return Case("CF-SATG-2", 212, headroom: 1.3, alpha: 0.003, gsd: 1.6, lambda: 0.004, interval: 10, action: 0.1);
    }

    private static SampledCheck Case(string id, ulong seed, double headroom, double alpha, double gsd, double lambda, int interval, double action)
    {
        double Below(double rate) => BlockMath.NormalCdf(-Math.Log(rate / alpha) / Math.Log(gsd)); // P(α > rate)
        double median = Math.Log(headroom) / (alpha + lambda);
        int steps = interval * (int)Math.Ceiling(1.6 * median / interval);
        double[] at = [Math.Floor(0.8 * median) + 0.5, Math.Floor(median) + 0.5, Math.Floor(1.4 * median) + 0.5];
        double last = steps;
        return new(
            id, Topics.ClosedForm,
            FormattableString.Invariant($"Loop with guide loss, set at checks every {interval} steps, headroom {headroom}: proportion of cells told by a time, and short by the horizon"),
            "r(h)·e^(−λh) = 1/H at the last check, α lognormal", seed, "the guide's loss left out",
            s =>
            {
                var run = Simulated.Analysis(new ScenarioBuilder().Clock(Step, steps)
                    .ExponentialAgeing(Varying(new LognormalDistribution(Step / alpha, gsd))).OutputSensor(alarm: true)
                    .Irradiance(1e4 * headroom).Guide(loss: lambda / Step, lit: LitDuring.WholeShift)
                    .Checks(interval, 1e4, action: action, tolerance: 2 * action).Limit(Response.Dose, 1e2, 1e6)
                    .RequalifyOn(true, RequalifyEvent.LoopSaturated).Run(lifetimes: 8000, seed: s).Build());
                var curve = FirstCycles.Survival(run.Whole);
                double shortBy = Below(((Math.Log(headroom) - Math.Log(1 - action)) / last) - lambda);
                return
                [
                    .. at.Select((h, i) =>
                    {
                        var survival = curve.At((h * Step) + 1);
                        double set = interval * Math.Floor(h / interval);
                        return new SampledFigure(
                            FormattableString.Invariant($"told by {h} steps"), Below((Math.Log(headroom) - (lambda * set)) / h), 1 - survival.Get(),
                            survival.StandardError!.Value, i == 1 ? Below(Math.Log(headroom) / h) : null);
                    }),
                    Sample.Share(
                        "short by the horizon", shortBy, run.Result.Records.Count(r => r.LeftShort > 0), run.Result.Records.Length,
                        Below((Math.Log(headroom) - Math.Log(1 - action)) / last)),
                ];
            });
    }
}
