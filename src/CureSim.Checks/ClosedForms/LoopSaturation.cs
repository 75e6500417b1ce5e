using CureSim.Checks.Comparing;
using CureSim.Checks.Fixtures;
using CureSim.Core.Cell;
using CureSim.Core.Distributions;
using CureSim.Core.Numerics;
using CureSim.Studies.Runs;
using static CureSim.Checks.Fixtures.Uncertain;

namespace CureSim.Checks.ClosedForms;

/// <summary>
/// An ideal loop with headroom H saturates when r(h) = 1/H: at τ·ln H for exponential ageing, at the root for other laws. It is told at the middle
/// of the step, so P(told by the middle of step k) = P(root &lt; that middle), exactly.
/// </summary>
internal static class LoopSaturation
{
    private const double Step = 28800;

    public static IEnumerable<SampledCheck> All()
    {
        yield return Exponential("CF-SAT-EXP-1", 201, headroom: 1.5, medianSteps: 60, gsd: 1.3);
        yield return Exponential("CF-SAT-EXP-2", 202, headroom: 1.2, medianSteps: 25, gsd: 1.6);
        yield return Stretched("CF-SAT-STR-1", 203, headroom: 1.4, shape: 0.7, tauSteps: 150, gsd: 1.25);
        yield return Stretched("CF-SAT-STR-2", 204, headroom: 1.6, shape: 1.4, tauSteps: 60, gsd: 1.4);
        yield return TwoStage("CF-SAT-TWO-1", 205, headroom: 1.4, early: 0.15, earlySteps: 20, lateSteps: 300, gsd: 1.3);
        yield return TwoStage("CF-SAT-TWO-2", 206, headroom: 1.25, early: 0.1, earlySteps: 8, lateSteps: 250, gsd: 1.5);
    }

    public static IEnumerable<Check> Roots()
    {
        yield return Root("CF-SAT-ROOT-EXP", "exponential ageing", b => b.ExponentialAgeing(90 * Step), h => Math.Exp(-h / 90));
        yield return Root("CF-SAT-ROOT-STR", "stretched ageing", b => b.StretchedAgeing(80 * Step, 0.6), h => Math.Exp(-Math.Pow(h / 80, 0.6)));
        yield return Root(
            "CF-SAT-ROOT-TWO", "two-stage ageing", b => b.TwoStageAgeing(0.2, 15 * Step, 260 * Step),
            h => (0.2 * Math.Exp(-h / 15)) + (0.8 * Math.Exp(-h / 260)));
    }

    private static SampledCheck Exponential(string id, ulong seed, double headroom, double medianSteps, double gsd)
    {
        // α lognormal is τ = 1/α lognormal; τ·ln H has median medianSteps.
        double tau = medianSteps / Math.Log(headroom);
        return Case(
            id, FormattableString.Invariant($"exponential ageing, lognormal rate, headroom {headroom}"), seed, headroom, b => b.ExponentialAgeing(Varying(new LognormalDistribution(tau * Step, gsd))),
            h => BlockMath.NormalCdf(Math.Log(h / medianSteps) / Math.Log(gsd)), h => BlockMath.NormalCdf(Math.Log(h / (tau * (1 - (1 / headroom)))) / Math.Log(gsd)),
            "(1 − 1/H)/α in place of ln(H)/α", [0.75 * medianSteps, medianSteps, 1.3 * medianSteps], wrongAt: 1);
    }

    private static SampledCheck Stretched(string id, ulong seed, double headroom, double shape, double tauSteps, double gsd)
    {
        double root = tauSteps * Math.Pow(Math.Log(headroom), 1 / shape);
        return Case(
            id, FormattableString.Invariant($"stretched ageing of shape {shape}, lognormal time, headroom {headroom}"), seed, headroom,
            b => b.StretchedAgeing(Varying(new LognormalDistribution(tauSteps * Step, gsd)), shape),
            h => BlockMath.NormalCdf(Math.Log(h / root) / Math.Log(gsd)), h => BlockMath.NormalCdf(Math.Log(h / (tauSteps * Math.Log(headroom))) / Math.Log(gsd)),
            "the exponent 1/β left out", [0.75 * root, root, 1.3 * root], wrongAt: 1);
    }

    private static SampledCheck TwoStage(string id, ulong seed, double headroom, double early, double earlySteps, double lateSteps, double gsd)
    {
        // With τ1 fixed, r(h) < 1/H says that the late time is below −h/ln((1/H − f·e^(−h/τ1))/(1 − f)).
        double Late(double h, double f) => -h / Math.Log(((1 / headroom) - (f * Math.Exp(-h / earlySteps))) / (1 - f));
        double Share(double h, double f) => BlockMath.NormalCdf(Math.Log(Late(h, f) / lateSteps) / Math.Log(gsd));
        double middle = Bisection.Root(h => Share(h, early) - 0.5, 1.0, 10 * lateSteps);
        return Case(
            id, FormattableString.Invariant($"two-stage ageing, lognormal late time, headroom {headroom}"), seed, headroom,
            b => b.TwoStageAgeing(early, earlySteps * Step, Varying(new LognormalDistribution(lateSteps * Step, gsd))),
            h => Share(h, early), h => Share(h, 0.8 * early), "a fifth of the early part left out", [0.75 * middle, middle, 1.4 * middle], wrongAt: 1);
    }

    private static SampledCheck Case(
        string id, string what, ulong seed, double headroom, Func<ScenarioBuilder, ScenarioBuilder> ageing, Func<double, double> told, Func<double, double> wrong,
        string planted, double[] atSteps, int wrongAt) => new(
            id, Topics.ClosedForm, $"Loop saturation, {what}: proportion of cells told by a time",
            "r(h) = 1/H; lognormal root", seed, planted,
            s =>
            {
                double last = Math.Floor(atSteps[^1]) + 1;
                var run = Simulated.Analysis(ageing(new ScenarioBuilder().Clock(Step, (int)last + 1)).OutputSensor(alarm: true).Drive(1 / headroom)
                    .Irradiance(1e4 * headroom).Limit(Response.Dose, 1e2, 1e6).RequalifyOn(true, RequalifyEvent.LoopSaturated)
                    .Run(lifetimes: 10000, seed: s).Build());
                var curve = FirstCycles.Survival(run.Whole);
                return atSteps.Select((at, i) =>
                {
                    double middle = Math.Floor(at) + 0.5;
                    var survival = curve.At((middle * Step) + 1);
                    return new SampledFigure(
                        FormattableString.Invariant($"told by {middle} steps"), told(middle), 1 - survival.Get(), survival.StandardError!.Value, i == wrongAt ? wrong(middle) : null);
                });
            });

    private static Check Root(string id, string what, Func<ScenarioBuilder, ScenarioBuilder> ageing, Func<double, double> output) => new(
        id, Topics.ClosedForm, $"Loop saturation, {what} without spread: the alarm comes at the first middle of a step after r(h) = 1/H, for five headrooms",
        "root of r(h) = 1/H by bisection", Provenances.ClosedForm, CheckKind.Deterministic, ThroughEngine: true,
        () =>
        {
            var found = new ExactComparison(1e-12, "times are whole and half steps, exact in double precision");
            foreach (double headroom in (double[])[1.05, 1.2, 1.3, 1.45, 1.6])
            {
                double root = Bisection.Root(h => output(h) - (1 / headroom), 0.0, 2000.0);
                var trace = Simulated.Trace(ageing(new ScenarioBuilder().Clock(Step, (int)root + 5)).OutputSensor(alarm: true).Drive(1 / headroom).Build());
                double told = trace.Events.Single(e => e.What == "alarm").Seconds / Step;
                found.Add(FormattableString.Invariant($"told (steps) with headroom {headroom}"), Math.Ceiling(root - 0.5) + 0.5, told);
                found.Plant("told one step late", Math.Ceiling(root - 0.5) + 1.5, told);
            }

            return found.Outcome();
        });
}
