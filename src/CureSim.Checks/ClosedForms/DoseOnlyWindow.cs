using CureSim.Checks.Comparing;
using CureSim.Checks.Fixtures;
using CureSim.Core.Cell;
using CureSim.Core.Distributions;
using CureSim.Core.Numerics;
using CureSim.Studies.Plans;
using CureSim.Studies.ProcessWindow;
using static CureSim.Checks.Fixtures.Uncertain;

namespace CureSim.Checks.ClosedForms;

/// <summary>A process window that only a lower limit of dose bounds: ln E normal over cells (spread c) and over parts (spread s), exposure time exact.</summary>
/// <remarks>
/// The fraction meets q at ln(E·t) = ln L + z_q·√(c² + s²); the 5th percentile over cells of the state index meets I at ln(E·t) = ln L + 3·I·s + 1.6449·c. The later of the two is the edge,
/// at every irradiance setting: equal dose. Standard error: that of the study's own interval of the edge.
/// </remarks>
internal static class DoseOnlyWindow
{
    private const double Limit = 3e4, Nominal = 4e4, Part = 0.03, Fraction = 1e-3;
    private const double Z95 = 1.6448536269514722;
    private static readonly double Cell = Math.Log(1.06);

    public static IEnumerable<SampledCheck> All()
    {
        double both = Math.Sqrt((Cell * Cell) + (Part * Part)), z = -BlockMath.NormalQuantile(Fraction);
        yield return Edge("CF-WIN-1", "the conforming fraction binds", 131, 1.0, z * both, z * Part);
        yield return Edge("CF-WIN-2", "the state index binds", 132, 1.33, (3 * 1.33 * Part) + (Z95 * Cell), 3 * 1.33 * Part);
    }

    /// <summary>What the plan prints: sizes by their inequality, factors against those that SciPy gives.</summary>
    public static IEnumerable<Check> Plan()
    {
        // One-sided: scipy.stats.nct; two-sided: the exact integral by scipy.integrate.quad over scipy.stats.ncx2 and chi2, root by brentq.
        foreach (var (id, risk, reliability, one, two) in new[]
        {
            ("PLAN-1", BondRisk.High, 0.99, 3.0639011262, 3.3545758486), ("PLAN-2", BondRisk.Medium, 0.95, 2.2198375320, 2.5548928151), ("PLAN-3", BondRisk.Low, 0.90, 1.7773287978, 2.1451110930),
        })
        {
            string word = risk.ToString().ToLowerInvariant();
            yield return new(
                id, "tolerance", $"Qualification plan for {word} risk: success run, parts for one and two nonconforming, factors of 30 parts",
                "smallest n with P(X ≤ c | n, 1 − R) ≤ 1 − C, by its binomial terms; k exact by SciPy", Provenances.ClosedForm, CheckKind.Deterministic, ThroughEngine: false,
                () => Compare(risk, reliability, one, two));
        }
    }

    private static CheckOutcome Compare(BondRisk risk, double reliability, double one, double two)
    {
        var (confidence, stated) = WindowStudy.PairOf(risk);
        var plan = SamplePlanTables.Of(confidence, stated, WindowResult.MeasuredParts);
        var row = plan.Factors.Single(f => f.Parts == WindowResult.MeasuredParts);
        var comparison = new ExactComparison(1e-8, "factors by quadrature, compared at ten digits; numbers of parts are whole");
        comparison.Add("confidence", 0.95, confidence);
        comparison.Add("reliability", reliability, stated);
        foreach (var attribute in plan.Attribute.Take(3))
        {
            comparison.Add(FormattableString.Invariant($"n, c = {attribute.Acceptance}"), Smallest(attribute.Acceptance, reliability), attribute.Parts);
        }

        comparison.Add("k one-sided", one, row.OneSided);
        comparison.Add("k two-sided", two, row.TwoSided);
        comparison.Plant("a normal score in place of the one-sided factor", BlockMath.NormalQuantile(reliability), row.OneSided);
        return comparison.Outcome();
    }

    private static int Smallest(int accepted, double reliability)
    {
        for (int n = accepted + 1; ; n++)
        {
            double term = Math.Pow(reliability, n), passes = term;
            for (int c = 1; c <= accepted; c++)
            {
                term *= (double)(n - c + 1) / c * (1.0 - reliability) / reliability;
                passes += term;
            }

            if (passes <= 0.05)
            {
                return n;
            }
        }
    }

    private static SampledCheck Edge(string id, string what, ulong seed, double index, double above, double planted) => new(
        id, Topics.ClosedForm, $"Process window with a lower limit of dose ({what}): ln of the set dose at its edge",
        "ln(E·t) = ln L + max(z_q·√(c² + s²), 3·I·s + 1.6449·c)", seed, "the spread of cells left out",
        s =>
        {
            var cell = new ScenarioBuilder().Clock(28800, 8).Rate(1e-3).Irradiance(Varying(new LognormalDistribution(Nominal, 1.06))).Ripple(Varying(new NormalDistribution(0, Part))).Drive(0.5)
                .NoLimit(Response.Dose).Limit(Response.Dose, Limit, null).Capability(index).Run(1, 2048, seed: s)
                .With(c => c with { WindowStudy = WindowStudy.Usual with { Nodes = 5, NonconformingLimit = Fraction, Time = new(1.0, 4.0) } }).Build();
            var map = WindowMap.Of(new WindowCase(cell), new MapSize(2, 1), 2);
            var edge = map.Crossings[map.Crossings.Length / 2];
            double error = Math.Log(edge.Upper95 / edge.Y) / 1.96;
            return [new SampledFigure("ln(E·t/L)", above, Math.Log(edge.X * edge.Y * Nominal / Limit), error, planted)];
        });
}
