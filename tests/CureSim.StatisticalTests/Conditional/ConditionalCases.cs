using CureSim.Checks.Fixtures;
using CureSim.Core.Cell;
using CureSim.Core.Distributions;
using CureSim.Scenarios;
using static CureSim.Checks.Fixtures.Uncertain;

namespace CureSim.StatisticalTests.Conditional;

/// <summary>A cell whose fraction nonconforming is counted and found from its states.</summary>
/// <param name="Name">As the table names it.</param>
/// <param name="What">What spreads in it.</param>
/// <param name="Cell">The cell with the size of its run.</param>
/// <param name="Factor">A conditional estimate wrong by this factor must be refused: nearer to 1 the more is counted.</param>
public sealed record ConditionalCase(string Name, string What, Scenario Cell, double Factor = 1.5);

/// <summary>Ten cells of different kinds, from 10 000 ppm to 1 ppm: variants of the shipped scenarios with other limits, and small ones.</summary>
public static class ConditionalCases
{
    private const double Step = 28800;

    /// <summary>All of them, the largest fraction first.</summary>
    public static ConditionalCase[] All(string scenarios) =>
    [
        new("parts, 10 000 ppm", "distance, ripple and exposure time of two sites, emitters alike within 2 %", Parts(0.845, 600, 4, 1)),
        new("quick.yaml", "arc lamp under a loop, two-leg guide, checks; lower limit 5.9 J/cm²", Shipped(scenarios, "quick.yaml", "run.lifetimes=1000", "production.horizon=12 weeks", "window.dose.lower=5.9 J/cm2")),
        new("disturbances", "a cracked leg and a slipping bracket, checks that find them", Disturbances(600)),
        new("loop", "sensor that drifts between settings, band lost beyond what it sees", Loop(1000)),
        new("hub-bond-led.yaml", "an LED head at each site, unknowns in four worlds; lower limit 6.3 J/cm²", Shipped(scenarios, "hub-bond-led.yaml", "run.worlds=4", "run.lifetimes=200", "production.horizon=10 weeks", "window.dose.lower=6.3 J/cm2")),
        new("cure", "degree of cure with lots, two parts at once", Cure(300)),
        new("two limits", "aim and tilt at one site, dose between two limits", TwoLimits(2000)),
        new("four sites", "one lamp with four legs, a part of four bonds", FourSites(6000)),
        new("parts, 10 ppm", "as the first, limit further away", Parts(0.737, 3000, 8, 9), 2.5),
        new("parts, 1 ppm", "as the first, limit further away", Parts(0.712, 4000, 32, 10), 6.0),
    ];

    private static Scenario Parts(double limit, int lifetimes, int partsAStep, ulong seed) => new ScenarioBuilder().Clock(Step, 64).Sites(2)
        .Irradiance(Varying(new LognormalDistribution(1e4, 1.02))).ReplaceEmitterAt(16 * Step)
        .Distance(0.01, new ConeMeanSpread(0.0025, 0.3), setup: Normal(1e-4), part: Normal(5e-4)).Ripple(Normal(0.03)).Exposure(1, error: Normal(0.03))
        .Limit(Response.Dose, limit * 1e4).Run(lifetimes: lifetimes, partsAStep: partsAStep, seed: seed).Build();

    private static Scenario Disturbances(int lifetimes) => new ScenarioBuilder().Clock(Step, 160).Sites(2).OneEmitterASite()
        .Irradiance(Varying(new LognormalDistribution(2e4, 1.03))).ExponentialAgeing(900 * Step).ReplaceEmitterAt(80 * Step)
        .Distance(0.01, new InverseSquareSpread(0.01), setup: Normal(1e-4), part: Normal(4e-4)).Ripple(Normal(0.02))
        .Disturbance("slip", 1 / (120 * Step), distance: Varying(new LognormalDistribution(4e-4, 1.3)), clearedBy: ClearedBy.FixtureCheck)
        .Disturbance("crack", 1 / (150 * Step), factor: 0.95, clearedBy: ClearedBy.BadIndication)
        .Checks(20, 1e4, adjust: 0.01, action: 0.03, tolerance: 0.1, fixtureCheck: true).Radiometer(repeatability: Normal(0.01))
        .Limit(Response.Dose, 8.2e3, 1.3e4).Run(lifetimes: lifetimes, partsAStep: 4, seed: 3).Build();

    private static Scenario Loop(int lifetimes) => new ScenarioBuilder().Clock(Step, 120).Sites(1)
        .Irradiance(Varying(new LognormalDistribution(2e4, 1.03))).ExponentialAgeing(800 * Step).BandAgeing(1 / (4000 * Step))
        .OutputSensor(drift: Normal(1e-4 / Step)).Distance(0.01, new InverseSquareSpread(0.01), part: Normal(4e-4)).Ripple(Normal(0.015))
        .Checks(30, 1e4, adjust: 0.02, action: 0.04, tolerance: 0.1).Radiometer(calibration: Normal(0.01), repeatability: Normal(0.01))
        .Limit(Response.Dose, 8.6e3).Run(lifetimes: lifetimes, partsAStep: 8, seed: 4).Build();

    private static Scenario Cure(int lifetimes) => new ScenarioBuilder().Clock(Step, 16).Sites(4, sitesPerPart: 2)
        .Irradiance(Varying(new LognormalDistribution(1e4, 1.01))).ReplaceEmitterAt(8 * Step).Exposure(2, error: Normal(0.05))
        .Distance(0.01, new InverseSquareSpread(0.01), part: Normal(5e-4)).Cure(1, Varying(new LognormalDistribution(1.3, 1.01)), 0.6, ratePart: Normal(0.04), induction: 500, lotSteps: 4)
        .NoLimit(Response.Dose).Limit(Response.DegreeOfCure, 0.882).Run(lifetimes: lifetimes, partsAStep: 60, seed: 6).Build();

    private static Scenario TwoLimits(int lifetimes) => new ScenarioBuilder().Clock(Step, 48).Sites(1)
        .Irradiance(Varying(new LognormalDistribution(1.05e4, 1.015))).ReplaceEmitterAt(12 * Step)
        .Aim(new GaussianBeam(0.004, 2), setup: Normal(1e-4), part: Normal(3e-4)).Tilt(Normal(0.08)).Ripple(Normal(0.02)).Exposure(1, error: Normal(0.01))
        .Limit(Response.Dose, 9.0e3, 1.18e4).Run(lifetimes: lifetimes, partsAStep: 16, seed: 7).Build();

    private static Scenario FourSites(int lifetimes) => new ScenarioBuilder().Clock(Step, 40).Sites(4)
        .Irradiance(Varying(new LognormalDistribution(1e4, 1.01))).Guide(imbalance: Normal(0.01), loss: 1 / (3000 * Step), lit: LitDuring.WholeShift)
        .Distance(0.01, new ConeMeanSpread(0.0025, 0.3), part: Normal(4e-4)).Ripple(Normal(0.02)).Exposure(1, error: Normal(0.02))
        .Limit(Response.Dose, 8.2e3).Run(lifetimes: lifetimes, partsAStep: 16, seed: 8).Build();

    private static Scenario Shipped(string folder, string file, params string[] sets)
    {
        var reading = ScenarioReader.Read(Path.Combine(folder, file), sets);
        return reading.Cell ?? throw new InvalidOperationException(string.Join("\n", reading.Problems));
    }

    private static Uncertain Normal(double sd) => Varying(new NormalDistribution(0, sd));
}
