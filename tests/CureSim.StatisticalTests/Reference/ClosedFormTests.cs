using CureSim.Core.Cell;
using CureSim.Core.Distributions;
using CureSim.Checks.Fixtures;
using static CureSim.Checks.Fixtures.Uncertain;

namespace CureSim.StatisticalTests.Reference;

/// <summary>A few closed forms straight through the reference engine, at small sizes: sanity of the engine that others are compared with.</summary>
/// <remarks>
/// Statistical checks have fixed seeds and 4.5 standard errors, a chance of 7·10⁻⁶ each; there are a dozen. What each could have shown is
/// its limit divided by the exact answer, a few per cent.
/// </remarks>
public class ClosedFormTests
{
    private const double Step = 28800;
    private const double Errors = 4.5;

    private static LifetimeHistory Run(Scenario scenario, uint lifetime = 0) =>
        new ReferenceEngine(scenario, new NominalVerdict()).Run(0, lifetime);

    private static void AssertMean(double expected, IReadOnlyCollection<double> sample)
    {
        double mean = sample.Average();
        double error = Math.Sqrt(sample.Sum(x => (x - mean) * (x - mean)) / ((double)sample.Count * (sample.Count - 1)));
        Assert.True(error < 0.05 * expected, "too few lifetimes to test with");
        Assert.True(Math.Abs(mean - expected) < Errors * error, $"{mean} ± {error} is not {expected}");
    }

    [Theory]
    [InlineData(1, 1, 0.4)]
    [InlineData(3, 1, 0.2)]
    [InlineData(3, 5, 0.05)]
    [InlineData(2, 8, 0.02)]
    public void DisturbancesOnly_PutRightAtChecks_OutAndUndetectedAsRenewalTheorySays(int sites, int interval, double ratePerStep)
    {
        // n sites, rate λ a site, checks every T: as-found good with probability e^(−nλT); out undetected 1 − (1 − e^(−nλT))/(nλT) of the time.
        const int checks = 40;
        var scenario = new ScenarioBuilder().Clock(Step, checks * interval).Sites(sites).OneEmitterASite().Run(seed: 4)
            .Checks(interval, 6e3, action: 0.01, tolerance: 0.02, fixtureCheck: true).Limit(Response.Dose, 5e3, 2e4)
            .Disturbance("knock", ratePerStep / Step, factor: 0.5, clearedBy: ClearedBy.FixtureCheck).Build();
        double x = sites * ratePerStep * interval;
        var good = new List<double>();
        var undetected = new List<double>();
        for (uint lifetime = 0; lifetime < 150; lifetime++)
        {
            var history = Run(scenario, lifetime);
            good.Add(history.Of(HistoryKind.Check).Count(c =>
                history.Of(HistoryKind.Verdict).Where(v => v.TimeSeconds == c.TimeSeconds).All(v => v.Value == 0)) / (double)checks);
            undetected.Add(history.OutOfStateUndetectedSeconds / scenario.Production.HorizonSeconds);

            // The same from the arrivals alone: out from the first one between two checks to the next check.
            double exact = history.Of(HistoryKind.Arrival)
                .GroupBy(a => Math.Ceiling(a.TimeSeconds / (interval * Step)))
                .Sum(g => (g.Key * interval * Step) - g.Min(a => a.TimeSeconds));
            Assert.Equal(exact, history.OutOfStateUndetectedSeconds, exact * 1e-11); // a few hundred differences of times up to 10⁷ s
            Assert.Equal(history.OutOfStateSeconds, history.OutOfStateUndetectedSeconds);
            Assert.Equal(history.OutOfWindowSeconds, history.OutOfStateSeconds);
        }

        AssertMean(Math.Exp(-x), good);
        AssertMean(1 - ((1 - Math.Exp(-x)) / x), undetected);
    }

    [Theory]
    [InlineData(0.01, 0.6)]
    [InlineData(0.02, 0.4)]
    public void DriveOnAGrid_HoldsOutputWithinHalfAStep(double grid, double drive)
    {
        // While the wanted drive moves over five steps of the grid the residual is uniform: sd q/(u√12).
        const int steps = 2000;
        double tau = steps * Step / Math.Log((drive + (5 * grid)) / drive);
        var history = Run(new ScenarioBuilder().Clock(Step, steps).ExponentialAgeing(tau).OutputSensor().Drive(drive, grid).Build());
        var residuals = history.Steps.Select(s =>
        {
            double wanted = drive * Math.Exp(s.MiddleSeconds / tau);
            Assert.True(Math.Abs(s.Sites[0].Drive - wanted) <= (grid / 2) + 1e-12, "more than half a step");
            Assert.Equal(Math.Round(s.Sites[0].Drive / grid), s.Sites[0].Drive / grid, 1e-12); // on the grid
            return (s.Sites[0].SensedOutput / (1e4 * drive)) - 1;
        }).ToArray();
        double sd = Math.Sqrt(residuals.Average(r => r * r));
        double middle = drive + (2.5 * grid); // u moves by ±2.5 steps about it: the sd by the square of that share, below 2 %

        Assert.InRange(sd / (grid / (middle * Math.Sqrt(12))), 0.98, 1.02);
    }

    [Theory]
    [InlineData(1.5, 2e-4)]
    [InlineData(1.25, 1e-4)]
    [InlineData(2.0, 1e-4)]
    public void IdealLoop_ExponentialAgeing_SaturatesAtLogOfHeadroomOverRate(double headroom, double ratePerHour)
    {
        double rate = ratePerHour / 3600;
        double saturates = Math.Log(headroom) / rate;
        int steps = (int)(1.2 * saturates / Step);
        var scenario = new ScenarioBuilder().Clock(Step, steps).ExponentialAgeing(1 / rate).OutputSensor(alarm: true).Drive(1 / headroom)
            .Irradiance(1e4 * headroom).RequalifyOn(true, RequalifyEvent.LoopSaturated).Build();
        var history = Run(scenario);

        double middleAfter = (Math.Ceiling((saturates / Step) - 0.5) + 0.5) * Step;
        Assert.Equal(middleAfter, Assert.Single(history.Of(HistoryKind.Alarm)).TimeSeconds);
        Assert.Equal(new FirstRequalifyEvent(middleAfter, RequalifyEvent.LoopSaturated), history.FirstRequalify);
        foreach (var step in history.Steps)
        {
            double expected = 1e4 * Math.Min(1, headroom * Math.Exp(-rate * step.MiddleSeconds));
            Assert.Equal(1, step.Sites[0].NominalIrradiance / expected, 1e-12); // sums of up to 10⁴ half steps of h, exact in double
        }
    }

    [Fact]
    public void SensorDrift_IsCopiedToTheOutputWithOppositeSign()
    {
        const double drift = 0.02 / (1000 * 3600);
        var history = Run(new ScenarioBuilder().Clock(Step, 300).OutputSensor(drift).Drive(0.7).ExponentialAgeing(5e7).Build());

        Assert.All(history.Steps, s => Assert.Equal(
            1, s.Sites[0].NominalIrradiance / (0.7e4 * Math.Exp(-drift * s.MiddleSeconds)), 1e-12)); // a few roundings
    }

    [Theory]
    [InlineData(0.0005, 0.004)]
    [InlineData(0.001, 0.003)]
    public void AimInAGaussianBeam_IsAPowerOfAUniform(double sigma, double radius)
    {
        var history = Run(new ScenarioBuilder().Clock(Step, 20).Run(partsAStep: 1000, seed: 8)
            .Aim(new GaussianBeam(radius, 2), part: Varying(new NormalDistribution(0, sigma))).Build());
        double[] factors = [.. history.Steps.SelectMany(s => s.Parts).Select(p => p.Bonds[0].Irradiance / 1e4)];
        double c = 4 * sigma * sigma / (radius * radius);

        Assert.Equal(20_000, factors.Length);
        AssertMean(1 / (1 + c), factors);
        AssertMean(1 / (1 + (2 * c)), [.. factors.Select(f => f * f)]);
    }

    [Theory]
    [InlineData(0.5)]
    [InlineData(20)]
    public void Wander_HasMeanOneItsSpreadAndItsCorrelation_ForAnyStep(double stepsOfCorrelation)
    {
        const double sigma = 0.1;
        const int lag = 2;
        var scenario = new ScenarioBuilder().Clock(Step, 12).Run(seed: 6).Wander(sigma, stepsOfCorrelation * Step, true).Build();
        double[][] logs = [.. Enumerable.Range(0, 2000).Select(i => Run(scenario, (uint)i).Steps
            .Select(s => Math.Log(s.Sites[0].NominalIrradiance / 1e4) + (sigma * sigma / 2)).ToArray())];

        AssertMean(1, [.. logs.Select(x => Math.Exp(x[^1] - (sigma * sigma / 2)))]);
        AssertMean(sigma * sigma, [.. logs.Select(x => x[0] * x[0])]);
        AssertMean(sigma * sigma, [.. logs.Select(x => x[^1] * x[^1])]);

        // Stationary: the mean square of a difference at a lag is 2σ²(1 − e^(−lag/τ)).
        AssertMean(
            2 * sigma * sigma * (1 - Math.Exp(-lag / stepsOfCorrelation)), [.. logs.Select(x => (x[5 + lag] - x[5]) * (x[5 + lag] - x[5]))]);
    }

    [Fact]
    public void Calibrations_AreCorrelatedByThePersistence()
    {
        const double rho = 0.6;
        const double sd = 0.02;
        var scenario = new ScenarioBuilder().Clock(Step, 4).Run(seed: 2)
            .Radiometer(calibration: Varying(new NormalDistribution(0, sd)), persistence: rho, calibrationSteps: 1).Build();
        double[][] errors = [.. Enumerable.Range(0, 3000).Select(i =>
            new ReferenceEngine(scenario, new NominalVerdict()) { KeepLevels = true }.Run(0, (uint)i).Steps
                .Select(s => s.Levels.Single(l => l.Path == "radiometer.calibration").Value / sd).ToArray())];

        // The mean square of a difference at a lag of j calibrations is 2σ²(1 − ρ^j).
        for (int lag = 1; lag <= 3; lag++)
        {
            AssertMean(2 * (1 - Math.Pow(rho, lag)), [.. errors.Select(e => (e[lag] - e[0]) * (e[lag] - e[0]))]);
        }

        AssertMean(1, [.. errors.Select(e => e[3] * e[3])]);
    }
}
