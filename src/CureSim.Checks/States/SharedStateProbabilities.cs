using CureSim.Checks.Comparing;
using CureSim.Checks.Fixtures;
using CureSim.Core.Cell;
using CureSim.Core.Numerics;
using static CureSim.Checks.Fixtures.Uncertain;

namespace CureSim.Checks.States;

/// <summary>p(state) where the bonds of a part share something, where two parts are made at once, and where the degree of cure is limited.</summary>
internal static class SharedStateProbabilities
{
    public static IEnumerable<Check> All()
    {
        yield return Shared("STATE-SHARED-1", 2, own: 0.05, ripple: 0.02, time: 0.0);
        yield return Shared("STATE-SHARED-2", 3, own: 0.02, ripple: 0.06, time: 0.0);
        yield return Shared("STATE-SHARED-3", 2, own: 0.04, ripple: 0.0, time: 0.03);
        yield return Shared("STATE-SHARED-4", 4, own: 0.04, ripple: 0.02, time: 0.02);
        yield return Groups("STATE-GROUPS-1", [0.0, 0.01], [0.02, 0.0]);
        yield return Groups("STATE-GROUPS-2", [0.0, 0.03, 0.01], [0.02, 0.05, 0.0]);
        yield return Cure("STATE-CURE-1", exponent: 0.5, rate: 0.05, ripple: 0.03);
        yield return Cure("STATE-CURE-2", exponent: 1.0, rate: 0.02, ripple: 0.06);
        yield return Cure("STATE-CURE-3", exponent: 0.7, rate: 0.06, ripple: 0.0);
        yield return TwoSided("STATE-BOTH", sd: 0.04);
    }

    // A slab without reflection and normal thickness gives a bond's own log factor any normal spread; its mean log factor stands in the nominal irradiance.
    private static ScenarioBuilder Own(double sd) => new ScenarioBuilder().Limit(Response.Dose, StateProbabilities.Limit)
        .Substrate(0, Varying(new Core.Distributions.NormalDistribution(1e-3, sd * 1e-3)), 1000);

    /// <summary>∫φ(z)·f(z)dz by the trapezoidal rule, which converges faster than any power here.</summary>
    private static double Average(Func<double, double> f)
    {
        const double H = 1.0 / 64;
        double sum = 0;
        for (int i = -576; i <= 576; i++)
        {
            sum += BlockMath.NormalDensity(i * H) * f(i * H);
        }

        return sum * H;
    }

    private static Check Shared(string id, int bonds, double own, double ripple, double time) => StateProbabilities.Entry(
        id, FormattableString.Invariant($"{bonds} bonds of one part with own spread {own}, shared ripple {ripple}, shared exposure time error {time}"),
        "E[1 − ∏(1 − q)] over what is shared, by the trapezoidal rule",
        found =>
        {
            var cell = new JudgedCell(Own(own).Sites(bonds).Ripple(StateProbabilities.Log(ripple)).Exposure(1, error: StateProbabilities.Log(time)).Build());
            double Exact(double margin, bool apart = false)
            {
                double At(double shift) => 1 - Math.Pow(1 - BlockMath.NormalCdf((-margin - shift) / own), bonds);
                double Time(double z) => Math.Log(Math.Max(1e-6, 1 + (time * z)));
                return apart ? 1 - Math.Pow(1 - Average(z => Average(y => BlockMath.NormalCdf((-margin - (ripple * z) - Time(y)) / own))), bonds)
                    : ripple > 0 && time > 0 ? Average(z => Average(y => At((ripple * z) + Time(y))))
                    : ripple > 0 ? Average(z => At(ripple * z)) : Average(z => At(Time(z)));
            }

            double sd = Math.Sqrt((own * own) + (ripple * ripple) + (time * time));
            foreach (double k in (double[])[2.0, 2.8, 3.5, 4.1, 4.7, 5.2])
            {
                found.Add(FormattableString.Invariant($"p at {k} sd"), Exact(k * sd), cell.Part(Equal(bonds, k * sd)));
            }

            found.Plant("bonds that share nothing", Exact(2 * sd, apart: true), cell.Part(Equal(bonds, 2 * sd)));
        });

    private static SiteAt[] Equal(int bonds, double margin) =>
        [.. Enumerable.Repeat(new SiteAt(Math.Log(StateProbabilities.Limit) + margin, 0.01, 0, 1000), bonds)];

    private static Check Groups(string id, double[] first, double[] second) => StateProbabilities.Entry(
        id, $"two parts of {first.Length} bonds at once, heads that stand differently", "mean over the parts of 1 − ∏(1 − q)",
        found =>
        {
            const double Sd = 0.03;
            int bonds = first.Length;
            var cell = new JudgedCell(new ScenarioBuilder().Limit(Response.Dose, StateProbabilities.Limit).Sites(2 * bonds, bonds).OneEmitterASite()
                .Ripple(StateProbabilities.Log(Sd)).Build());
            double Any(double[] ahead, double margin) => 1 - ahead.Aggregate(1.0, (all, a) => all * (1 - BlockMath.NormalCdf(-(margin + a) / Sd)));
            foreach (double k in (double[])[2.0, 2.8, 3.5, 4.1, 4.7, 5.2])
            {
                double margin = k * Sd;
                double p = cell.Part([.. first.Concat(second).Select(a => new SiteAt(Math.Log(StateProbabilities.Limit) + margin + a, 0.01))]);
                found.Add(FormattableString.Invariant($"p at {k} sd"), 0.5 * (Any(first, margin) + Any(second, margin)), p);
                if (k == 2.0)
                {
                    found.Plant("all bonds in one part", Any([.. first, .. second], margin), p);
                }
            }
        });

    private static Check Cure(string id, double exponent, double rate, double ripple) => StateProbabilities.Entry(
        id, FormattableString.Invariant($"degree of cure with exponent {exponent}, rate within a lot {rate}, own ripple {ripple}"),
        "X ≥ L ⇔ k·E^p·t ≥ −ln(1 − L/Xmax): a normal tail of the logarithms",
        found =>
        {
            const double Required = 0.8, Maximum = 0.95;
            var cell = new JudgedCell(new ScenarioBuilder().NoLimit(Response.Dose).Limit(Response.DegreeOfCure, Required).OneEmitterASite()
                .Ripple(StateProbabilities.Log(ripple)).Cure(Maximum, 1, exponent, ratePart: StateProbabilities.Log(rate)).Build());
            double sd = Math.Sqrt((rate * rate) + (exponent * exponent * ripple * ripple));
            double needed = Math.Log(-Math.Log(1 - (Required / Maximum)));
            foreach (double e in (double[])[0.5, 1.0, 2.0])
            {
                foreach (double p in StateProbabilities.Wanted)
                {
                    double margin = -sd * BlockMath.NormalQuantile(p);
                    found.Add(FormattableString.Invariant($"p at {e} W/cm²"), p, cell.Part(needed + margin - (exponent * Math.Log(e)), new SiteAt(Math.Log(1e4 * e), 0.01)));
                }
            }

            double off = -(rate + ripple) * BlockMath.NormalQuantile(1e-3);
            found.Plant("spreads added", ripple > 0 ? 1e-3 : 2e-3, cell.Part(needed + off, new SiteAt(Math.Log(1e4), 0.01)));
        });

    private static Check TwoSided(string id, double sd) => StateProbabilities.Entry(
        id, "limits on both sides", "two normal tails add",
        found =>
        {
            var cell = new JudgedCell(Own(sd).Limit(Response.Dose, StateProbabilities.Limit, StateProbabilities.Limit * Math.Exp(8 * sd)).Build());
            foreach (double k in (double[])[2.5, 3.2, 3.9, 4.0, 4.3, 5.1])
            {
                found.Add(
                    FormattableString.Invariant($"p at {k} and {8 - k:0.#} sd"), BlockMath.NormalCdf(-k) + BlockMath.NormalCdf(k - 8), cell.Part(Equal(1, k * sd)));
            }

            found.Plant("one side only", BlockMath.NormalCdf(-4), cell.Part(Equal(1, 4 * sd)));
        });
}
