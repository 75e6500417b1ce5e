using CureSim.Checks.Comparing;
using CureSim.Checks.Fixtures;
using CureSim.Core.Cell;
using CureSim.Core.Distributions;
using CureSim.Core.Summaries;
using static CureSim.Checks.Fixtures.Uncertain;

namespace CureSim.Checks.Fractions;

/// <summary>
/// The counted fraction and the conditional one (mean of p(state)) are two estimates of the same number: their ratio is 1 within three standard errors of
/// the difference, which is formed lifetime by lifetime because both come from the same lifetimes.
/// </summary>
internal static class CountedAndConditional
{
    private const double Step = 28800;

    public static IEnumerable<SampledCheck> All()
    {
        yield return Case("FRAC-10000", "10 000 ppm: distance, ripple and exposure time of two sites", 601, 600, Geometry(0.845));
        yield return Case("FRAC-3000", "some 3 000 ppm: aim with set-up offsets, tilt, substrate lots", 602, 1200, Aim(0.70));
        yield return Case("FRAC-1000", "1 000 ppm: distance, ripple and exposure time of two sites", 603, 2000, Geometry(0.80));
        yield return Case("FRAC-CURE", "some 2 000 ppm: degree of cure with lots, two parts at once", 604, 200, CureOf(), partsAStep: 60);
        yield return Case("FRAC-EVENTS", "10 000 ppm: ageing, disturbances, failures with downtime, checks", 605, 800, Events());
        yield return Case("FRAC-100", "100 ppm: distance, ripple and exposure time of two sites", 606, 5000, Geometry(0.765));
    }

    private static SampledCheck Case(string id, string what, ulong seed, int lifetimes, ScenarioBuilder cell, int partsAStep = 4) => new(
        id, Topics.Fraction, $"Counted and conditional fraction agree at {what}", "E[p(state)] is the fraction of parts outside", seed,
        "one of them half as large again",
        s =>
        {
            var records = Simulated.Run(cell.Run(lifetimes: lifetimes, partsAStep: partsAStep, seed: s).Build()).Records;
            return
            [
                Ratio("bonds, counted over conditional", records, r => r.BondsNonconforming, r => r.BondsSampled, r => r.ConditionalBonds),
                Ratio("parts, counted over conditional", records, r => r.PartsNonconforming, r => r.PartsSampled, r => r.ConditionalParts),
            ];
        });

    private static SampledFigure Ratio(
        string name, IReadOnlyCollection<LifetimeRecord> records, Func<LifetimeRecord, double> bad, Func<LifetimeRecord, double> sampled, Func<LifetimeRecord, double> conditional)
    {
        double counted = records.Sum(bad) / records.Sum(sampled), judged = records.Sum(conditional) / records.Sum(r => r.ConditionalStates);
        double meanSampled = records.Average(sampled), meanStates = records.Average(r => r.ConditionalStates);

        // Linearised difference of the two ratios, one value a lifetime.
        double square = records.Sum(r => Math.Pow(
            ((bad(r) - (counted * sampled(r))) / meanSampled) - ((conditional(r) - (judged * r.ConditionalStates)) / meanStates), 2));
        double error = Math.Sqrt(square / ((double)records.Count * (records.Count - 1)));
        return new(name, 1.0, counted / judged, error / judged, 1.5);
    }

    private static Uncertain Log(double sd) => Varying(new NormalDistribution(0, sd));

    private static ScenarioBuilder Geometry(double limit) => new ScenarioBuilder().Clock(Step, 64).Sites(2)
        .Irradiance(Varying(new LognormalDistribution(1e4, 1.02))).ReplaceEmitterAt(16 * Step)
        .Distance(0.01, new ConeMeanSpread(0.0025, 0.3), setup: Log(1e-4), part: Log(5e-4)).Ripple(Log(0.03)).Exposure(1, error: Log(0.03))
        .Limit(Response.Dose, limit * 1e4);

    private static ScenarioBuilder Aim(double limit) => new ScenarioBuilder().Clock(Step, 64).Sites(2).OneEmitterASite()
        .Irradiance(Varying(new LognormalDistribution(1.25e4, 1.02))).ReplaceEmitterAt(16 * Step)
        .Aim(new GaussianBeam(0.004, 2), setup: Log(2e-4), part: Log(4e-4)).Tilt(Log(0.1))
        .Substrate(0.04, Varying(new NormalDistribution(0.001, 5e-5)), Varying(new NormalDistribution(200, 10)), lotSteps: 8)
        .Limit(Response.Dose, limit * 1e4);

    private static ScenarioBuilder CureOf() => new ScenarioBuilder().Clock(Step, 16).Sites(4, sitesPerPart: 2)
        .Irradiance(Varying(new LognormalDistribution(1e4, 1.01))).ReplaceEmitterAt(8 * Step).Exposure(2, error: Log(0.05))
        .Distance(0.01, new InverseSquareSpread(0.01), part: Log(5e-4)).Cure(1, Varying(new LognormalDistribution(1.3, 1.01)), 0.6, ratePart: Log(0.04), induction: 500, lotSteps: 4)
        .NoLimit(Response.Dose).Limit(Response.DegreeOfCure, 0.885);

    private static ScenarioBuilder Events() => new ScenarioBuilder().Clock(Step, 160).Sites(2).OneEmitterASite()
        .Irradiance(Varying(new LognormalDistribution(2e4, 1.03))).ExponentialAgeing(900 * Step).Failure(Varying(new WeibullDistribution(2, 90 * Step))).ReplaceEmitterAt(80 * Step)
        .Distance(0.01, new InverseSquareSpread(0.01), setup: Log(1e-4), part: Log(4e-4)).Ripple(Log(0.02))
        .Disturbance("slip", 1 / (60 * Step), distance: Varying(new LognormalDistribution(6e-4, 1.3)), clearedBy: ClearedBy.FixtureCheck)
        .Disturbance("kink", 1 / (90 * Step), factor: 0.93, clearedBy: ClearedBy.BadIndication)
        .Checks(20, 1e4, adjust: 0.01, action: 0.03, tolerance: 0.1, fixtureCheck: true).Radiometer(repeatability: Log(0.01))
        .Downtime(check: 900, emitter: 3600, failure: 14400).Limit(Response.Dose, 8.2e3, 1.25e4);
}
