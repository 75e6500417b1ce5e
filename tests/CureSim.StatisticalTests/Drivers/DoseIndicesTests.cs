using CureSim.Checks.Fixtures;
using CureSim.Core.Cell;
using CureSim.Core.Distributions;
using CureSim.Core.Random;
using CureSim.Core.Statistics;
using CureSim.Engine.Plan;
using CureSim.Engine.Runs;
using CureSim.Studies.Drivers;
using static CureSim.Checks.Fixtures.Uncertain;

namespace CureSim.StatisticalTests.Drivers;

/// <summary>Indices of the dose by the engine, against closed forms derived here and against its own bonds.</summary>
public class DoseIndicesTests
{
    private const double Step = 28800;

    private static Uncertain Log(double sd) => Varying(new NormalDistribution(0, sd));

    // Four lognormal factors, nothing is ever replaced: the dose is the same at all times, and a product.
    private static Scenario Product(ulong seed) => new ScenarioBuilder().Clock(Step, 3).Run(lifetimes: 64, seed: seed)
        .Irradiance(Varying(new LognormalDistribution(1e4, Math.Exp(0.3)))).Guide(Log(0.2), reseat: Log(0.25)).Ripple(Log(0.4))
        .Exposure(2, error: Varying(new NormalDistribution(0, 0.1))).Build();

    [Fact]
    public void ProductOfFactors_IndicesByQuantityAndLevelAreExact()
    {
        var found = DoseIndices.Run(Product(71), 0, 4096, 2);
        var any = found.Moments[0];

        // Factor i has the relative variance v: of a product V/mean² = Π(1 + v) − 1, V_i/mean² = v_i, and E_i/mean² = v_i·Π_{j≠i}(1 + v_j).
        var v = new Dictionary<string, double>
        {
            ["source.irradiance"] = Math.Exp(0.09) - 1, ["guide.transmission"] = Math.Exp(0.04) - 1, ["guide.reseat"] = Math.Exp(0.0625) - 1,
            ["loop.ripple"] = Math.Exp(0.16) - 1, ["exposure.error"] = 0.0025,
        };
        double all = v.Values.Aggregate(1.0, (p, x) => p * (1 + x)), total = all - 1;
        Assert.Equal(v.Keys.Append(DriverGroup.Time).Order(), any.Quantities.Select(g => g.Name).Order());
        foreach (var (group, index) in any.RankedQuantities)
        {
            if (group.IsTime)
            {
                // Nothing moves with time: exactly no effect.
                Assert.Equal((0.0, 0.0), (index.First.Get(), index.Total.Get()));
                continue;
            }

            Near(v[group.Name] / total, index.First);
            Near(v[group.Name] / (1 + v[group.Name]) * all / total, index.Total);
        }

        double part = ((1 + v["loop.ripple"]) * (1 + v["exposure.error"])) - 1;
        var level = any.RankedLevels.Single(l => l.Group.Name == "part").Index;
        Near(part / total, level.First);
        Near(part / (1 + part) * all / total, level.Total);

        // Sum rules of independent inputs.
        Near(v.Values.Sum() / total, any.Indices!.FirstOrderSum);
        Assert.True(any.Indices.FirstOrderSum.Get() < 1.0 && any.RankedQuantities.Sum(q => q.Index.Total.Get()) > 1.0);
    }

    [Fact]
    public void UnknownFactor_IsAWorldsIndex()
    {
        // A factor that is unknown and one that varies with the emitter: shares by closed form, worlds and emitters told apart.
        var scenario = new ScenarioBuilder().Clock(Step, 2).Run(worlds: 4, lifetimes: 16, seed: 72)
            .Irradiance(new Uncertain(new LognormalDistribution(1e4, Math.Exp(0.2)), new LognormalDistribution(1.0, Math.Exp(0.3)))).Build();
        var any = DoseIndices.Run(scenario, 0, 4096, 2).Moments[0];
        double emitter = Math.Exp(0.04) - 1, world = Math.Exp(0.09) - 1, total = ((1 + emitter) * (1 + world)) - 1;
        Near(world / total, any.RankedQuantities.Single(q => q.Group.Name == "source.irradiance (unknown)").Index.First);
        Near(emitter / total, any.RankedQuantities.Single(q => q.Group.Name == "source.irradiance").Index.First);
        Near(emitter * (1 + world) / total, any.RankedLevels.Single(q => q.Group.Name == "emitter").Index.Total);
    }

    [Fact]
    public void Time_WithoutAnythingElse_HasTheWholeVariance()
    {
        var scenario = new ScenarioBuilder().Clock(Step, 50).Run(lifetimes: 64, seed: 73).ExponentialAgeing(40 * Step).Build();
        var any = DoseIndices.Run(scenario, 0, 512, 2).Moments[0];
        var index = any.RankedQuantities.Single(q => q.Group.IsTime).Index;
        Assert.Equal(1.0, index.First.Get(), 1e-12);
        Assert.Equal(1.0, index.Total.Get(), 1e-12);
    }

    [Fact]
    public void Probe_IsTheDoseThatTheEngineMakes()
    {
        // Without spread of parts every bond of a step is the one that is looked at, also with checks, replacements and a drifting loop in between.
        var cell = new ScenarioBuilder().Clock(Step, 30).Run(lifetimes: 12, seed: 74).Irradiance(Varying(new LognormalDistribution(2e4, 1.1)))
            .ExponentialAgeing(Varying(new LognormalDistribution(60 * Step, 1.2))).ReplaceEmitterAt(11 * Step).OutputSensor(Log(1e-9)).Guide(Log(0.03), reseat: Log(0.02)).Build();
        var plan = new RunPlan(cell);
        var probes = new DoseProbes(cell.Run, 0, 30, (_, _) => [.. Enumerable.Range(0, 30).Select(k => new ProbeTime(k, 0.5))]);
        var with = new LocalRunner(plan, 2) { Beside = new() { Probes = probes } }.Run();
        for (uint lifetime = 0; lifetime < 12; lifetime++)
        {
            foreach (var bond in LocalRunner.Trace(plan, 0, lifetime).Bonds)
            {
                // Block and scalar functions give the same bits; the order of the factors may differ in one rounding or two.
                Assert.Equal(bond.Dose, probes.At(bond.Step)[lifetime], bond.Dose * 1e-14);
            }
        }

        Assert.Equal(new LocalRunner(plan, 1).Run().Records.Select(r => r.DoseSum), with.Records.Select(r => r.DoseSum));
    }

    [Theory]
    [InlineData(true, RequalifyEvent.StateLeft)]
    [InlineData(false, RequalifyEvent.StateLost)]
    [InlineData(false, RequalifyEvent.EmitterReplaced)]
    public void DosesAlone_AreThoseOfAWholeRun(bool recordOnly, RequalifyEvent on)
    {
        // Three worlds, checks, failures, disturbances and requalifications that act (or do not): bit by bit the same doses without parts, and without verdicts where nothing follows from them.
        var cell = new ScenarioBuilder().Clock(Step, 60).Run(worlds: 3, lifetimes: 9, seed: 77).Irradiance(new Uncertain(new LognormalDistribution(2e4, 1.1), new LognormalDistribution(1.0, 1.1)))
            .ExponentialAgeing(Varying(new LognormalDistribution(60 * Step, 1.2))).ReplaceEmitterAt(25 * Step).OutputSensor(Log(1e-9)).Guide(Log(0.03), reseat: Log(0.02))
            .Checks(7, 1.5e4, tolerance: null, clean: true, late: 0.3, lateSteps: 2).Tip(Log(0.02)).Limit(Response.Dose, 1.2e4, 2e4).Exposure(1, error: Log(0.03)).Capability(1.0).RequalifyOn(recordOnly, on).Build();
        var run = new RunPlan(cell);
        DoseProbes Probes() => new(cell.Run, 0, 60, (_, _) => [.. Enumerable.Range(0, 60).Select(k => new ProbeTime(k, 0.3, k % 4))]);
        DoseProbes whole = Probes(), alone = Probes();
        var result = new LocalRunner(run, 2) { Beside = new() { Probes = whole } }.Run();
        DosePaths.Look(new RunPlan(cell), alone, 3);
        Assert.True(result.Records.Sum(r => r.RequalifyEvents) > 0);
        for (int t = 0; t < 60; t++)
        {
            Assert.Equal(whole.At(t), alone.At(t));
        }
    }

    [Fact]
    public void CorrelatedUnknowns_AreOneInput()
    {
        // Nothing else varies but the time, on which the dose hangs through the two unknowns' ageing only: the pair must be one group, and alone it explains what no single one could be given.
        var scenario = new ScenarioBuilder().Clock(Step, 2).Run(worlds: 4, lifetimes: 16, seed: 78)
            .Irradiance(new Uncertain(new FixedValue(1e4), new LognormalDistribution(1.0, Math.Exp(0.3)))).Exposure(1, offset: new Uncertain(new FixedValue(1.0), new LognormalDistribution(1.0, Math.Exp(0.3)))).Build();
        var apart = DriverGroup.ByQuantity(scenario);
        Assert.Equal(2, apart.Count(g => g.IsWorld));
        string[] paths = [.. ScenarioQuantities.Unknown(scenario).Select(q => q.Path).Order(StringComparer.Ordinal)];
        scenario = scenario with { UnknownCorrelations = [new(paths[0], paths[1], 0.8)] };
        var group = Assert.Single(DriverGroup.ByQuantity(scenario), g => g.IsWorld);
        Assert.Equal(2, group.Streams.Length);
        Assert.EndsWith("(unknown, correlated)", group.Name, StringComparison.Ordinal);
        Assert.Equal(1.0, DoseIndices.Run(scenario, 0, 256, 2).Moments[0].RankedQuantities.Single(q => q.Group.Name == group.Name).Index.First.Get(), 1e-12);
    }

    [Fact]
    public void Exchange_OfNothing_ChangesNothingAndThreadsDoNotMatter()
    {
        var (one, seven) = (DoseIndices.Run(Product(75), 0, 512, 1), DoseIndices.Run(Product(75), 0, 512, 7));
        Assert.Equal(one.Moments[0].Indices!.Groups.ToArray(), seven.Moments[0].Indices!.Groups.ToArray());
        var design = new DesignPoints(1, 32, 1, 64, [DriverGroup.TimeStream], []);
        var exchanged = new Redraw(design, [DriverGroup.TimeStream]);
        Assert.True(exchanged.TakesB(DriverGroup.TimeStream));
        Assert.NotEqual(design.Uniform(0, 5, DriverGroup.TimeStream, false), design.Uniform(0, 5, DriverGroup.TimeStream, true));
        Assert.Equal(design.Uniform(0, 5, DriverGroup.TimeStream, true), exchanged.Leading(0, 5, DriverGroup.TimeStream, 0));
        Assert.Null(exchanged.Leading(0, 5, StreamKey.Of(DrawDomain.Cell, "another"), 0));
    }

    // Three standard errors of the bootstrap; chance alone fails one figure in about 250 (few randomisations), and the seed is fixed.
    private static void Near(double expected, Estimate found) =>
        Assert.InRange(found.Get(), expected - (3.0 * found.StandardError!.Value), expected + (3.0 * found.StandardError!.Value));
}
