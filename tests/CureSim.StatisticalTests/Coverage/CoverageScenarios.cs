using CureSim.Checks.Fixtures;
using CureSim.Core.Cell;
using CureSim.Core.Distributions;
using CureSim.Core.Random;
using static CureSim.Checks.Fixtures.Uncertain;

namespace CureSim.StatisticalTests.Coverage;

/// <summary>A small cell whose printed intervals are put to the test.</summary>
/// <param name="Name">As the table names it.</param>
/// <param name="What">What is in it.</param>
/// <param name="Cell">The cell, all but its number of lifetimes and its seed.</param>
/// <param name="Lifetimes">Lifetimes of each of the repeated runs.</param>
/// <param name="PartsAStep">Parts sampled in each step.</param>
/// <param name="MedianSeconds">Median time to requalify in closed form, s; null when its times lie on the grid of steps, which are atoms.</param>
public sealed record CoverageScenario(string Name, string What, ScenarioBuilder Cell, int Lifetimes, int PartsAStep, double? MedianSeconds = null)
{
    /// <summary>True when a few lifetimes hold most of the bad parts, so that the fractions are to be withheld.</summary>
    public bool WithholdsFractions { get; init; }
}

/// <summary>The cells: no figure of theirs has an atom, so that an interval can have its nominal coverage.</summary>
public static class CoverageScenarios
{
    private const double Step = 28800;

    /// <summary>All of them.</summary>
    public static CoverageScenario[] All => [Cracks, Ageing, Heads];

    /// <summary>A disturbance that ends the qualified state arrives at exponential times; the dose spreads by emitter, set-up and part.</summary>
    public static CoverageScenario Cracks => new(
        "cracked leg", "a loss of light that arrives at exponential times and is put right at every tenth step; emitter, set-up and part vary",
        new ScenarioBuilder().Clock(Step, 40).Sites(1)
            .Irradiance(Varying(new LognormalDistribution(1e4, 1.03)))
            .Distance(0.01, new InverseSquareSpread(0.01), setup: Normal(1e-4), part: Normal(3e-4)).Ripple(Normal(0.02))
            .Disturbance("crack", 1 / (16 * Step), factor: Varying(new LognormalDistribution(0.85, 1.02)), clearedBy: ClearedBy.FixtureCheck)
            .Checks(10, 7e3, adjust: 0.02, action: 0.05, tolerance: 0.2, fixtureCheck: true).Radiometer(repeatability: Normal(0.01))
            .Limit(Response.Dose, 5.4e3, 9e3).Capability(1.5).RequalifyOn(true, RequalifyEvent.StateLeft),
        512, 4, 16 * Step * Math.Log(2.0));

    /// <summary>An emitter that ages with a rate of its own until the state is left.</summary>
    public static CoverageScenario Ageing => new(
        "ageing lamp", "exponential ageing with a time constant of each emitter's own, slow wander, exposure time and distance of each part",
        new ScenarioBuilder().Clock(Step, 100).Sites(1)
            .Irradiance(Varying(new LognormalDistribution(1.1e4, 1.02))).ExponentialAgeing(Varying(new LognormalDistribution(420 * Step, 1.3)))
            .Wander(0.01, 20 * Step, seenBySensor: true)
            .Distance(0.01, new InverseSquareSpread(0.01), setup: Normal(1e-4), part: Normal(4e-4)).Exposure(1, error: Normal(0.01))
            .Limit(Response.Dose, 8e3, 1.3e4).Capability(0.8).RequalifyOn(true, RequalifyEvent.StateLeft),
        512, 2);

    /// <summary>Emitters that differ, so that few of them hold most of the bad parts: the hard case for an interval of a fraction.</summary>
    public static CoverageScenario Heads => new(
        "heads that differ", "emitters spread as much as parts and nothing is set, so a few lifetimes hold most of the bad parts; emitters fail",
        new ScenarioBuilder().Clock(Step, 32).Sites(1)
            .Irradiance(Varying(new LognormalDistribution(1e4, 1.035))).ExponentialAgeing(400 * Step).Failure(Varying(new WeibullDistribution(2, 24 * Step)))
            .Distance(0.01, new InverseSquareSpread(0.01), part: Normal(3e-4)).Ripple(Normal(0.02))
            .Limit(Response.Dose, 8e3, 1.3e4).RequalifyOn(true, RequalifyEvent.EmitterReplaced),
        256, 4, 24 * Step * Math.Sqrt(Math.Log(2.0))) { WithholdsFractions = true };

    private static Uncertain Normal(double sd) => Varying(new NormalDistribution(0, sd));
}
