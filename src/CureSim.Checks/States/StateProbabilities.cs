using CureSim.Checks.ClosedForms;
using CureSim.Checks.Comparing;
using CureSim.Checks.Fixtures;
using CureSim.Core.Cell;
using CureSim.Core.Distributions;
using CureSim.Core.Numerics;
using static CureSim.Checks.Fixtures.Uncertain;

namespace CureSim.Checks.States;

/// <summary>p(state) of the judge against exact answers from 10⁻² to 10⁻⁷, at the nominal state, between the nodes of its table and outside it.</summary>
/// <remarks>
/// With a margin m the nominal irradiance stands a factor e^m above (or below) the limit, so p is the probability that a bond's own factors fall below
/// e^(−m). For each p wanted the margin is found from the exact law, and the judge is asked for p.
/// </remarks>
internal static class StateProbabilities
{
    internal const double Limit = 1e4; // J/m² with exposures of 1 s
    internal static readonly double[] Wanted = [1e-2, 1e-3, 1e-4, 1e-5, 1e-6, 1e-7];

    public static IEnumerable<Check> All()
    {
        yield return Distance("STATE-DIST-1", "inverse square", new InverseSquareSpread(0.008), d => 2 * Math.Log(0.018 / (d + 0.008)), 3e-4, setup: 0);
        yield return Distance("STATE-DIST-2", "inverse square, set-ups between and beyond the nodes", new InverseSquareSpread(0.008), d => 2 * Math.Log(0.018 / (d + 0.008)), 4e-4, setup: 2e-4);
        double tan = Math.Tan(0.3);
        yield return Distance("STATE-DIST-3", "mean of a cone, set-ups between and beyond the nodes", new ConeMeanSpread(0.0025, 0.3), d => -2 * Math.Log(0.0025 + (d * tan)), 5e-4, setup: 3e-4);
        yield return Offset("STATE-AIM-1", 0.5e-3, 4e-3, 0);
        yield return Offset("STATE-AIM-2", 0.3e-3, 4e-3, 3e-4);
        yield return Offset("STATE-AIM-3", 0.5e-3, 5e-3, 2e-4);
        yield return Edge("STATE-EDGE-1", 4, 4e-3, 5e-4, 6e-4, from: 0);
        yield return Edge("STATE-EDGE-2", 6, 3.5e-3, 3e-4, 6e-4, from: 1);
        yield return Slab("STATE-SLAB-1", 0.0, 1e-3, 4e-5, 250, 0);
        yield return Slab("STATE-SLAB-2", 0.06, 1.5e-3, 5e-5, 300, 20);
        yield return Tilt("STATE-TILT-1", 0.08);
        yield return Tilt("STATE-TILT-2", 0.15);
        yield return Deep("STATE-DEEP-1", new ConeMeanSpread(0.0025, 0.3), 5e-4, 1e-4);
        yield return Deep("STATE-DEEP-2", new InverseSquareSpread(0.02), 3e-4, 3e-4);
    }

    internal static Uncertain Log(double sd) => sd > 0 ? Varying(new NormalDistribution(0, sd)) : 0.0;

    internal static Check Entry(string id, string what, string source, Action<ExactComparison> compare, double tolerance = 0.005) => new(
        id, Topics.State, "p(state): " + what, source, Provenances.ClosedForm, CheckKind.Deterministic, ThroughEngine: false,
        () =>
        {
            var found = new ExactComparison(tolerance, "grids of 1/120 of the spread, rows of 160 points and cubic interpolation between nodes; the promise is 2 % of p");
            compare(found);
            return found.Outcome();
        });

    private static ScenarioBuilder Lower() => new ScenarioBuilder().Limit(Response.Dose, Limit);

    private static Check Distance(string id, string what, SpreadLaw law, Func<double, double> log, double sd, double setup) => Entry(
        id, "distance only, " + what, "monotone map of a normal deviation: p = Φ(−x/σ)",
        found =>
        {
            var cell = Lower().Distance(0.01, law, setup: Log(setup), part: Log(sd)).Build();
            var low = new JudgedCell(cell);
            var high = new JudgedCell(cell with { Window = new([new(Response.Dose, null, null, Limit)], false) });
            foreach (double score in setup > 0 ? new[] { -2.31, 0.37, 1.93, 6.0 } : [0.0])
            {
                double d = 0.01 + (score * setup);
                foreach (double p in Wanted)
                {
                    // The irradiance falls with distance: the lower limit is passed at d + x, the upper one at d − x.
                    double x = -sd * BlockMath.NormalQuantile(p), start = Math.Log(Limit);
                    found.Add(FormattableString.Invariant($"p at {score} set-ups, lower limit"), p, low.Part(new SiteAt(start + log(d) - log(d + x), d)));
                    found.Add(FormattableString.Invariant($"p at {score} set-ups, upper limit"), p, high.Part(new SiteAt(start + log(d) - log(d - x), d)));
                }
            }

            double wrong = -sd * BlockMath.NormalQuantile(1e-5);
            found.Plant("3 % of the spread left out", 1e-5, low.Part(new SiteAt(Math.Log(Limit) + (log(0.01) - log(0.01 + (0.97 * wrong))), 0.01)));
        });

    private static Check Offset(string id, double sd, double radius, double setup) => Entry(
        id, FormattableString.Invariant($"aim of {1e3 * sd:G3} mm in a Gaussian beam of {1e3 * radius:G3} mm, {(setup > 0 ? "offsets between and beyond the nodes" : "centred")}"),
        "Rice's law of the distance from the axis (Marcum's Q); a power of a uniform when centred",
        found =>
        {
            var cell = new JudgedCell(Lower().Aim(new GaussianBeam(radius, 2), setup: Log(setup), part: Log(sd)).Build());
            foreach (double score in setup > 0 ? new[] { 0.0, 0.41, 1.87, 3.3, 8.0 } : [0.0])
            {
                double offset = score * setup;
                foreach (double p in Wanted)
                {
                    double beyond = offset > 0 ? RiceTail.Radius(offset, p, sd) : sd * Math.Sqrt(-2 * Math.Log(p));
                    double margin = 2 * ((beyond * beyond) - (offset * offset)) / (radius * radius);
                    found.Add(FormattableString.Invariant($"p at {score} set-ups"), p, cell.Part(new SiteAt(Math.Log(Limit) + margin, 0.01, offset)));
                }
            }

            double one = sd * BlockMath.NormalQuantile(1e-5);
            found.Plant("one axis only", 2e-5, cell.Part(new SiteAt(Math.Log(Limit) + (2 * one * one / (radius * radius)), 0.01)));
        },
        setup > 0 ? 0.01 : 0.005);

    private static Check Edge(string id, double order, double radius, double bond, double sd, int from) => Entry(
        id, FormattableString.Invariant($"aim of {1e3 * sd:G3} mm in a super-Gaussian beam of order {order}, bond of {1e3 * bond:G3} mm judged at its worst point"),
        "Rayleigh's law of the distance from the axis, the bond's edge farther out by its radius",
        found =>
        {
            var cell = new JudgedCell(Lower().Aim(new GaussianBeam(radius, order), part: Log(sd)).BondRadius(bond).Build());
            double Fall(double rho) => 2 * Math.Pow((rho + bond) / radius, order);

            // An edge so steep that light falls to e^−12 within reach: 160 points over that range do not resolve the tenth of it in which p = 10⁻² lies.
            foreach (double p in Wanted.Skip(from))
            {
                found.Add("p", p, cell.Part(new SiteAt(Math.Log(Limit) + Fall(sd * Math.Sqrt(-2 * Math.Log(p))) - Fall(0), 0.01)));
            }

            double at = sd * Math.Sqrt(-2 * Math.Log(1e-4));
            found.Plant("judged at its centre", 1e-4, cell.Part(new SiteAt(Math.Log(Limit) + (2 * Math.Pow(at / radius, order)), 0.01)));
        });

    private static Check Slab(string id, double reflectance, double thickness, double sd, double absorption, double lot) => Entry(
        id, FormattableString.Invariant($"substrate thickness with R = {reflectance}{(lot > 0 ? ", lots between and beyond the nodes" : string.Empty)}"),
        "monotone map of a normal thickness: p = Φ(−x/σ)",
        found =>
        {
            var cell = new JudgedCell(Lower().Substrate(reflectance, Varying(new NormalDistribution(thickness, sd)), lot > 0 ? Varying(new NormalDistribution(absorption, lot)) : absorption).Build());
            foreach (double score in lot > 0 ? new[] { -1.77, 0.29, 3.1, 7.0 } : [0.0])
            {
                double alpha = absorption + (score * lot);
                double Log(double x) => (-alpha * x) - Math.Log(1 - (reflectance * reflectance * Math.Exp(-2 * alpha * x)));
                foreach (double p in Wanted)
                {
                    double x = thickness - (sd * BlockMath.NormalQuantile(p));
                    found.Add(FormattableString.Invariant($"p at {score} lots"), p, cell.Part(new SiteAt(Math.Log(Limit) + Log(thickness) - Log(x), 0.01, 0, alpha)));
                }
            }

            double wrong = thickness - (0.97 * sd * BlockMath.NormalQuantile(1e-5));
            found.Plant("3 % of the spread left out", 1e-5, cell.Part(new SiteAt(Math.Log(Limit) + (absorption * (wrong - thickness)), 0.01, 0, absorption)));
        });

    private static Check Tilt(string id, double sd) => Entry(
        id, FormattableString.Invariant($"tilt of {sd} rad"), "both ends of a normal angle: p = 2Φ(−θ/σ)",
        found =>
        {
            var cell = new JudgedCell(Lower().Tilt(Log(sd)).Build());
            foreach (double p in Wanted)
            {
                found.Add("p", p, cell.Part(new SiteAt(Math.Log(Limit) - Math.Log(Math.Cos(sd * BlockMath.NormalQuantile(p / 2))), 0.01)));
            }

            found.Plant("one end only", 1e-4, cell.Part(new SiteAt(Math.Log(Limit) - Math.Log(Math.Cos(sd * BlockMath.NormalQuantile(1e-4))), 0.01)));
        });

    // Far from the limits, where the masses of the table have run out, p goes on falling: it must never come back.
    private static Check Deep(string id, SpreadLaw law, double sd, double setup) => Entry(
        id, "margins up to 30 standard deviations, set-ups between the nodes", "p falls as the margin grows, and is nothing beyond nine deviations",
        found =>
        {
            var cell = new JudgedCell(Lower().Distance(0.01, law, setup: Log(setup), part: Log(sd)).Build());
            double One(double score, double margin) => cell.Part(new SiteAt(Math.Log(Limit) + margin, 0.01 + (score * setup)));
            double unit = Bisection.Root(m => 1.35e-3 - One(0, m), 0.0, 2.0) / 3; // a deviation of the log factor, about
            for (double score = -3.9; score < 4; score += 0.13)
            {
                double[] p = [.. Enumerable.Range(4, 52).Select(k => One(score, 0.5 * k * unit))];
                found.Add(FormattableString.Invariant($"falling at {score:0.00} set-ups"), Enumerable.Range(1, p.Length - 1).All(k => p[k] <= p[k - 1]));
                found.Add(FormattableString.Invariant($"nothing from ten deviations on at {score:0.00} set-ups"), p.Skip(16).All(v => v < 1e-15));
            }

            found.Plant("nothing from three deviations on", 1e-15, One(0, 3 * unit));
        });
}
