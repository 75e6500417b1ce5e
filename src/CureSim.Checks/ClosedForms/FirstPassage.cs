using CureSim.Checks.Comparing;
using CureSim.Checks.Fixtures;
using CureSim.Core.Cell;
using CureSim.Core.Distributions;
using CureSim.Core.Numerics;
using static CureSim.Checks.Fixtures.Uncertain;

namespace CureSim.Checks.ClosedForms;

/// <summary>
/// Many small multiplicative disturbances of both signs that nothing clears: ln irradiance is a random walk with drift, and its first passage of a limit a
/// below is inverse Gaussian with mean a/(λμ) and shape a²/(λ(μ² + s²)).
/// </summary>
/// <remarks>
/// The walk passes the limit in a jump, so the law is that of a level a + R, R the mean overshoot of a walk of normal steps (from 0.58·s without drift
/// upwards). The third cumulant of the law is too large by (μ/s)², here below 3 %, which moves a proportion by at most 0.003. What is left of second order in s/a is allowed for: a tenth of the overshoot's own effect.
/// </remarks>
internal static class FirstPassage
{
    private const double Step = 28800;

    public static IEnumerable<SampledCheck> All()
    {
        yield return Case("CF-PASS-1", 541, level: 0.18, mean: -0.0015, sd: 0.010, perStep: 2.0);
        yield return Case("CF-PASS-2", 542, level: 0.15, mean: -0.0010, sd: 0.006, perStep: 3.0);
    }

    private static SampledCheck Case(string id, ulong seed, double level, double mean, double sd, double perStep)
    {
        double[] at = [0.75, 1.0, 1.3];
        double steps = level / (-mean * perStep); // the mean time
        InverseGaussianDistribution Law(double a) => new(a / (-mean * perStep), a * a / (perStep * ((mean * mean) + (sd * sd))));
        double overshoot = sd * Overshoot(-mean / sd);
        var law = Law(level + overshoot);
        return new(
            id, Topics.ClosedForm,
            FormattableString.Invariant($"Log steps of {mean} ± {sd}, {perStep} a step of the clock: first passage of a level {level} below, proportion by a time"),
            "first passage of a Wiener process with drift: inverse Gaussian (E. Schrödinger 1915)", seed, "half the variance",
            s =>
            {
                int horizon = (int)(1.5 * steps) + 1;
                var run = Simulated.Run(new ScenarioBuilder().Clock(Step, horizon)
                    .Disturbance("slip", perStep / Step, factor: Varying(LognormalDistribution.FromLog(mean, sd)))
                    .Limit(Response.Dose, 1e4 * Math.Exp(-level)).Run(lifetimes: 3000, seed: s).Build());
                var wrong = new InverseGaussianDistribution(law.Mean, 2 * law.Shape);
                return at.Select(t => Sample.Share(
                    FormattableString.Invariant($"passed by {t * steps:0} steps"), law.Cdf(t * steps), run.Records.Count(r => r.FirstExcursionSeconds <= t * steps * Step), run.Records.Length,
                    t == at[0] ? wrong.Cdf(t * steps) : null, 0.1 * Math.Abs(Law(level).Cdf(t * steps) - law.Cdf(t * steps))));
            },
            FormattableString.Invariant($"a tenth of the effect of the overshoot, which is {100 * overshoot / level:0.0} % of the level"));
    }

    /// <summary>
    /// Mean overshoot far out of a walk of N(m, 1) steps, in steps' sd: E[X²]/(2E[X]) − Σ E[S_n⁻]/n (M. Woodroofe, Nonlinear Renewal Theory in Sequential
    /// Analysis (1982), corollary 2.2, recalled from memory; tends to 0.5826 as m → 0).
    /// </summary>
    private static double Overshoot(double m)
    {
        double sum = (1 + (m * m)) / (2 * m);
        for (int n = 1; n <= 2000; n++)
        {
            double root = Math.Sqrt(n);
            sum -= (BlockMath.NormalDensity(root * m) - (root * m * BlockMath.NormalCdf(-root * m))) / root;
        }

        return sum;
    }
}
