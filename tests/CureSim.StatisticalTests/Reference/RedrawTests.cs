using CureSim.Core.Cell;
using CureSim.Core.Distributions;
using CureSim.Core.Random;
using CureSim.Checks.Fixtures;
using static CureSim.Checks.Fixtures.Uncertain;

namespace CureSim.StatisticalTests.Reference;

/// <summary>Every level is drawn anew at its events and at no other time.</summary>
/// <remarks>When a redraw is due follows from the calendar of the scenario or from what happened, never from the engine's count of redraws.</remarks>
public class RedrawTests
{
    private const double Step = 28800;
    private const int Steps = 120;
    private const double Little = 1e-3;

    private static Uncertain Near(double mean) => Varying(new NormalDistribution(mean, Math.Max(Little * Math.Abs(mean), 1e-9)));

    private static Uncertain Log(double sd = Little) => Varying(new NormalDistribution(0, sd));

    // Everything that can vary above part level varies; intervals are different primes or so, in steps.
    private static Scenario Calendar() => new ScenarioBuilder()
        .Clock(Step, Steps, shiftSeconds: 2 * Step).Sites(2).Rate(0.01).Run(worlds: 2, lifetimes: 2, seed: 11)
        .Irradiance(Near(5e4)).BandAgeing(Near(1e-12)).ReplaceEmitterAt(7 * Step)
        .OutputSensor(Near(1e-10))
        .Guide(Log(), Log(), Log(), Near(1e-10), LitDuring.WholeShift, replaceAtLitSeconds: 11 * Step)
        .Tip(Near(1e-7), cleaningEffect: Near(0.9))
        .Distance(0.01, new InverseSquareSpread(0.01), setup: Log(1e-5)).Aim(new GaussianBeam(0.005, 2), setup: Log(1e-5))
        .Disturbance("bracket slips", 1 / (12 * Step), distance: Near(1e-4), clearedBy: ClearedBy.FixtureCheck)
        .Substrate(0.04, 0.001, Near(200), lotSteps: 6).Cure(1, Near(1), Unknown(new NormalDistribution(0.7, 0.05)), lotSteps: 9)
        .Exposure(1, offset: Log(1e-3))
        .Checks(5, 2e4, clean: true, fixtureCheck: true)
        .Radiometer(Log(), Log(), 0.5, 8, Near(1e-12), Log(), Log(), newMeterSteps: 20)
        .Build();

    private static LifetimeHistory Run(Scenario scenario, int world = 0, uint lifetime = 0) =>
        new ReferenceEngine(scenario, new NominalVerdict()) { KeepLevels = true }.Run(world, lifetime);

    public static TheoryData<string, int[]> ByCalendar => new()
    {
        { "source.irradiance", [7] },
        { "source.band_ageing", [7] },
        { "loop.drift", [] },
        { "guide.transmission", [11] },
        { "guide.loss", [11] },
        { "guide.imbalance", [11] },
        { "tip.fouling", [5, 11] },
        { "substrate.absorption", [6] },
        { "cure.rate.lot", [9] },
        { "cure.exponent", [] },
        { "exposure.offset", [] },
        { "radiometer.meter", [20] },
        { "radiometer.calibration", [8, 20] },
        { "radiometer.drift", [8, 20] },
        { "radiometer.session", [2] },
    };

    [Theory]
    [MemberData(nameof(ByCalendar))]
    public void Quantity_WithACalendar_ChangesAtItsDatesOnly(string path, int[] intervals)
    {
        var history = Run(Calendar());

        AssertChanges(history, path, (k, _) => intervals.Any(every => k % every == 0));
    }

    [Theory]
    [InlineData("guide.reseat")]
    [InlineData("fixture.distance.setup")]
    [InlineData("fixture.aim.setup.x")]
    [InlineData("fixture.aim.setup.y")]
    public void SetUp_ChangesAtReplacementsAndWhenAFixtureDisturbanceIsPutRight(string path)
    {
        var history = Run(Calendar());
        var arrivals = history.Of(HistoryKind.Arrival).ToArray();
        Assert.True(arrivals.Length > 10, "too few arrivals to test with");

        AssertChanges(history, path, (k, site) =>
            k % 7 == 0 || k % 11 == 0
            || (k % 5 == 0 && arrivals.Any(a => a.Place == site && a.TimeSeconds > (k - 5) * Step && a.TimeSeconds < k * Step)));
    }

    [Fact]
    public void OwnEmitters_SuddenFailure_RedrawsItsOwnPlaceOnly()
    {
        var scenario = new ScenarioBuilder().Clock(Step, Steps).Sites(3).OneEmitterASite()
            .Irradiance(Near(1e4)).BandAgeing(Near(1e-12)).Failure(Varying(new NormalDistribution(9 * Step, 2 * Step)))
            .Distance(0.01, new InverseSquareSpread(0.01), setup: Log(1e-5)).Build();
        var history = Run(scenario);
        var failures = history.Of(HistoryKind.Failure).ToArray();
        Assert.All(Enumerable.Range(0, 3), e => Assert.True(failures.Count(f => f.Place == e) > 5, "too few failures to test with"));

        foreach (string path in (string[])["source.irradiance", "source.band_ageing", "fixture.distance.setup"])
        {
            AssertChanges(history, path, (k, place) => failures.Any(f =>
                f.Place == place && f.TimeSeconds > (k - 0.5) * Step && f.TimeSeconds <= (k + 0.5) * Step));
        }
    }

    [Fact]
    public void World_IsSharedByItsLifetimesAndDiffersBetweenWorlds()
    {
        var scenario = Calendar();
        double At(string path, int world, uint lifetime) => Run(scenario, world, lifetime).Steps[0].Levels.First(l => l.Path == path).Value;

        Assert.Equal(At("cure.exponent", 0, 0), At("cure.exponent", 0, 1));
        Assert.NotEqual(At("cure.exponent", 0, 0), At("cure.exponent", 1, 0));
        Assert.NotEqual(At("exposure.offset", 0, 0), At("exposure.offset", 0, 1));
        Assert.NotEqual(At("exposure.offset", 0, 0), At("exposure.offset", 1, 0));
    }

    [Fact]
    public void Unknown_MultipliesEveryDrawOfItsWorldByOneNumber()
    {
        var known = new ScenarioBuilder().Clock(Step, 10).Irradiance(Near(1e4)).ReplaceEmitterAt(Step);
        var unknown = new ScenarioBuilder().Clock(Step, 10).ReplaceEmitterAt(Step)
            .Irradiance(new Uncertain(new NormalDistribution(1e4, 10), new NormalDistribution(1, 0.1)));
        double[] Ratios(int world, uint lifetime) => [.. Run(unknown.Build(), world, lifetime).Steps
            .Zip(Run(known.Build(), world, lifetime).Steps, (a, b) => a.Sites[0].NominalIrradiance / b.Sites[0].NominalIrradiance)];

        double first = Ratios(0, 0)[0];
        Assert.All(Ratios(0, 0).Concat(Ratios(0, 7)), r => Assert.Equal(first, r, 1e-14)); // a product and a quotient of the same numbers
        Assert.NotEqual(first, Ratios(1, 0)[0], 1e-6);
    }

    [Fact]
    public void Reading_EveryOneHasADrawOfItsOwnAtItsAddress()
    {
        const double sd = 0.01;
        var scenario = new ScenarioBuilder().Clock(Step, 40).Sites(2).Irradiance(5e4).Run(seed: 5)
            .Checks(4, 2e4, adjust: 1e-9, action: 1, tolerance: 1).Radiometer(repeatability: Log(sd)).Build();
        var history = Run(scenario);

        // Readings of a site in the order in which they were made in the step; a setting moves u between them.
        double drive = 1;
        var seen = new HashSet<double>();
        var numbers = new Dictionary<(int Site, int Step), int>();
        foreach (var row in history.Events)
        {
            drive = row.Kind == HistoryKind.Setting ? row.Value : drive;
            if (row.Kind is HistoryKind.Reading or HistoryKind.AsFound or HistoryKind.AsLeft)
            {
                int step = (int)Math.Round(row.TimeSeconds / Step) - 1;
                int number = numbers[(row.Place, step)] = numbers.GetValueOrDefault((row.Place, step), -1) + 1;
                double u = Draw.Uniform(
                    5, 0, 0, StreamKey.Of(DrawDomain.Cell, "radiometer.repeatability", row.Place), ((step + 1) * 65536L) + number);
                double error = Math.Log(row.Value / (5e4 * drive));
                Assert.Equal(new NormalDistribution(0, sd).Quantile(u), error, 1e-14);
                Assert.True(seen.Add(u));
            }
        }

        Assert.Equal((2 * 2) + (10 * 3 * 2), seen.Count); // commissioning: two readings a site; each of ten checks: three
    }

    [Fact]
    public void Part_EveryOneHasADrawOfItsOwnAtItsAddress()
    {
        var scenario = new ScenarioBuilder().Clock(Step, 20).Sites(4, sitesPerPart: 2).OneEmitterASite().Run(partsAStep: 3, seed: 9)
            .Irradiance(1e4).Ripple(Log(0.01)).Exposure(1, error: Log(0.01)).Build();
        var history = Run(scenario);
        var ripples = new HashSet<double>();
        var errors = new HashSet<double>();
        double Uniform(string path, int place, int step, int part) => Draw.Uniform(9, 0, 0, StreamKey.Of(DrawDomain.Part, path, place), (step * 65536L) + part);

        // Two parts share a radius and a direction, each taking one axis.
        double At(string path, int place, int step, int part)
        {
            double radius = 0.01 * Math.Sqrt(-2 * Math.Log(Uniform(path, place, step, part / 2 * 2)));
            double turn = 2 * Math.PI * Uniform(path, place, step, (part / 2 * 2) + 1);
            return radius * (part % 2 == 0 ? Math.Cos(turn) : Math.Sin(turn));
        }

        foreach (var step in history.Steps)
        {
            foreach (var part in step.Parts)
            {
                errors.Add(part.ExposureSeconds);
                Assert.Equal(1 + At("exposure.error", part.Group, step.Step, part.Number), part.ExposureSeconds, 1e-15);
                foreach (var bond in part.Bonds)
                {
                    ripples.Add(bond.Irradiance);
                    Assert.Equal(part.Group, bond.Site / 2);
                    Assert.Equal(At("loop.ripple", bond.Site, step.Step, part.Number), Math.Log(bond.Irradiance / 1e4), 1e-14);
                }
            }
        }

        Assert.Equal(20 * 3 * 4, ripples.Count);
        Assert.Equal(20 * 3 * 2, errors.Count);
    }

    [Fact]
    public void Arrival_EveryOneHasADrawOfItsOwn()
    {
        var scenario = new ScenarioBuilder().Clock(Step, Steps).Run(seed: 3)
            .Disturbance("knock", 1 / (5 * Step), factor: Varying(new NormalDistribution(0.99, 0.01))).Build();
        var history = Run(scenario);
        var arrivals = history.Of(HistoryKind.Arrival).ToArray();
        Assert.True(arrivals.Length > 10, "too few arrivals to test with");
        Assert.Equal(Enumerable.Range(0, arrivals.Length).Select(i => (double)i), arrivals.Select(a => a.Value));
        var effects = arrivals.Select(a => new NormalDistribution(0.99, 0.01).Quantile(Draw.Uniform(
            3, 0, 0, StreamKey.Of(DrawDomain.Cell, "disturbances.knock.factor", 0), (long)a.Value))).ToArray();
        Assert.Equal(effects.Length, effects.Distinct().Count());

        foreach (var step in history.Steps)
        {
            double expected = 1e4 * arrivals.Zip(effects).Where(a => a.First.TimeSeconds <= step.MiddleSeconds).Aggregate(1.0, (f, a) => f * a.Second);
            Assert.Equal(1, step.Sites[0].NominalIrradiance / expected, 1e-13); // up to 40 products
        }
    }

    // At every place the value of a quantity differs between the middles of steps k − 1 and k exactly when a redraw was due.
    private static void AssertChanges(LifetimeHistory history, string path, Func<int, int, bool> isDue)
    {
        int places = 0;
        foreach (int place in history.Steps[0].Levels.Where(l => l.Path == path).Select(l => l.Place))
        {
            places++;
            double Value(int k) => history.Steps[k].Levels.Single(l => l.Path == path && l.Place == place).Value;
            for (int k = 1; k < history.Steps.Count; k++)
            {
                bool changed = Value(k) != Value(k - 1);
                Assert.True(changed == isDue(k, place), $"{path} at {place}: {(changed ? "changed" : "did not change")} before the middle of step {k}");
            }
        }

        Assert.True(places > 0, $"{path} is not kept");
    }
}
