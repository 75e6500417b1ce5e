using System.Collections.Immutable;
using CureSim.Checks.Fixtures;
using CureSim.Core.Cell;
using CureSim.Core.Distributions;
using CureSim.Core.Numerics;
using CureSim.Engine.Plan;
using CureSim.Engine.Runs;
using static CureSim.Checks.Fixtures.Uncertain;
using static CureSim.StatisticalTests.Assurance.QualifiedCells;

namespace CureSim.StatisticalTests.Assurance;

/// <summary>The parts that a qualification takes: the same bonds as the engine's sampled ones, when they should be taken, and without a trace in the run.</summary>
public class TakenPartsTests
{
    private const int PartsAStep = 6;

    // Everything varies; failures and knocks come often, so that many parts are made inside a walked step.
    private static ScenarioBuilder Busy(double downtime) => new ScenarioBuilder().Clock(Step, 60).Sites(4, 2).Rate(0.01).Run(lifetimes: 20, partsAStep: PartsAStep, seed: 51)
        .Irradiance(Varying(new NormalDistribution(5e4, 5e2))).Failure(Varying(new WeibullDistribution(2, 15 * Step))).ReplaceEmitterAt(25 * Step)
        .OutputSensor(Log(1e-9)).Ripple(Log(0.01)).Guide(Log(0.01), Log(0.01), Log(0.01), 1e-8).Tip(1e-6).Tilt(Log(0.05))
        .Distance(0.01, new InverseSquareSpread(0.01), setup: Log(1e-4), part: Log(1e-4)).Aim(new GaussianBeam(0.005, 2), setup: Log(1e-4), part: Log(1e-4))
        .Disturbance("knock", 1 / (6 * Step), factor: 0.9, distance: 1e-4, clearedBy: ClearedBy.FixtureCheck)
        .Substrate(0.04, Varying(new NormalDistribution(1e-3, 1e-5)), Varying(new NormalDistribution(200, 10)), lotSteps: 4)
        .Cure(1, Varying(new LognormalDistribution(1, 1.05)), 0.7, ratePart: Log(0.01), lotSteps: 4)
        .Exposure(1, error: Log(0.01)).Checks(5, 2e4, adjust: 0.02, clean: true, fixtureCheck: true)
        .Radiometer(Log(0.01), Log(0.01), 0.5, 8, Log(1e-10), Log(0.01), Log(0.01)).Downtime(check: downtime, emitter: downtime, failure: downtime)
        .Limit(Response.Dose, 1e4, 2.5e4).Limit(Response.Irradiance, lower: 1e4).Limit(Response.DegreeOfCure, lower: 0.5);

    private static (RunResult Run, PartTakings Takings) Run(Scenario cell, params PartTaking[] takings)
    {
        var kept = new PartTakings(cell, [.. takings]);
        return (new LocalRunner(new RunPlan(cell), threads: 1) { Beside = new() { Takings = kept } }.Run(), kept);
    }

    [Fact]
    public void Taken_Parts_AreTheSampledOnesOfTheirSteps()
    {
        // Six parts of each of two groups at each of 15 lots: exactly what the run samples in these steps, so sums over both agree to rounding.
        var cell = Busy(0).Build();
        var samples = Run(cell, new PartTaking(PartsAStep * 2 * 15, 1, 15, 1, QualificationGate.None)).Takings.Of(0);
        int walked = 0;
        for (uint lifetime = 0; lifetime < cell.Run.LifetimesPerWorld; lifetime++)
        {
            var trace = LocalRunner.Trace(new RunPlan(cell), 0, lifetime);
            var sample = samples[(int)lifetime];
            walked += trace.Events.Count(e => e.What.Contains("failed", StringComparison.Ordinal) && (int)(e.Seconds / Step) % 4 == 0);
            for (int position = 0; position < 2; position++)
            {
                var bonds = trace.Bonds.Where(b => b.Step % 4 == 0 && b.Site % 2 == position).ToArray();
                Assert.Equal(PartsAStep * 2 * 15, bonds.Length);
                Same(bonds.Select(b => b.Irradiance), sample.True[position]);
                Same(bonds.Select(b => b.Dose), sample.True[2 + position]);
                Same(bonds.Select(b => b.DegreeOfCure), sample.True[4 + position]);
            }

            int outside = trace.Bonds.Where(b => b.Step % 4 == 0).GroupBy(b => (b.Step, b.Part, b.Site / 2))
                .Count(g => g.Any(b => b.Dose < 1e4 || b.Dose > 2.5e4 || b.Irradiance < 1e4 || b.DegreeOfCure < 0.5));
            Assert.Equal(outside, sample.Nonconforming);
        }

        Assert.True(walked > 5, "the test needs parts made in steps with failures");
    }

    [Fact]
    public void Takings_ChangeNothingOfTheRun()
    {
        var cell = Busy(3600).Build();
        var without = new LocalRunner(new RunPlan(cell), threads: 1).Run();
        var with = Run(cell, new PartTaking(100, 3, 3, 1, QualificationGate.AfterCheck), new PartTaking(9, 1, 1, 3, QualificationGate.AsLeftWithinAdjust)).Run;
        foreach (var field in typeof(Core.Summaries.LifetimeRecord).GetFields())
        {
            Assert.Equal(without.Records.Select(r => field.GetValue(r)).Prepend(field.Name), with.Records.Select(r => field.GetValue(r)).Prepend(field.Name));
        }

        Assert.Equal(without.Total.Histograms[0, 0].Counts, with.Total.Histograms[0, 0].Counts);
        Assert.Equal(without.Total.BySite[0, 0].M4, with.Total.BySite[0, 0].M4);
        Assert.Equal(without.Total.IndexByBin, with.Total.IndexByBin);
    }

    [Fact]
    public void Downtime_DelaysPartsAndLosesNone()
    {
        // An hour of each eight is down after a check; parts whose time falls there are not made and others take their place.
        var samples = Run(Busy(3600).Build(), new PartTaking(50, 1, 1, 1, QualificationGate.AfterCheck)).Takings.Of(0);
        Assert.All(samples, s => Assert.Equal((50, 1), (s.Parts, s.Occasions)));
    }

    [Fact]
    public void Radiometer_ThatSetTheCell_DoesNotSeeItsOwnError()
    {
        // The cell is set to the target by a meter with a calibration error of 4 % and nothing else varies: the indication is the target, the truth is off by the error.
        const int lifetimes = 4000;
        const double error = 0.04;
        var cell = new ScenarioBuilder().Clock(Step, 16).Run(lifetimes: lifetimes, seed: 52).Irradiance(2e4).Checks(4, 1e4).Radiometer(calibration: Log(error))
            .Limit(Response.Dose, 1e4 * Math.Exp(-0.05), 1e4 * Math.Exp(0.05));
        var study = Study(cell, Attribute(30), Attribute(30, reading: PartReading.Radiometer) with { Name = "read" });
        Near((2 * BlockMath.NormalCdf(0.05 / error)) - 1, study.Plans[0].Own.Horizon!.Pass.Estimate.Value, lifetimes);
        Assert.Equal(1.0, study.Plans[1].Own.Horizon!.Pass.Estimate.Value);
    }

    [Fact]
    public void Gate_AsLeft_OpensAsOftenAsTheLastReadingIsWithinTheLimit()
    {
        // Set by one reading and read again: the as-left indication is the target times the ratio of two reading errors. Derived: P(|e^x − 1| ≤ a), x normal with √2·σ.
        const int lifetimes = 4000;
        const double sigma = 0.03, adjust = 0.04;
        var cell = new ScenarioBuilder().Clock(Step, 16).Run(lifetimes: lifetimes, seed: 53).Irradiance(2e4).Checks(4, 1e4, adjust: adjust).Radiometer(repeatability: Log(sigma)).Build();
        var samples = Run(cell, new PartTaking(1, 1, 1, 1, QualificationGate.AsLeftWithinAdjust)).Takings.Of(0);
        double spread = Math.Sqrt(2) * sigma;
        double expected = BlockMath.NormalCdf(Math.Log(1 + adjust) / spread) - BlockMath.NormalCdf(Math.Log(1 - adjust) / spread);
        Near(expected, samples.Count(s => s.FirstSeconds < Step) / (double)lifetimes, lifetimes);
        Assert.All(samples.Where(s => s.FirstSeconds > Step), s => Assert.Equal(0, (int)(s.FirstSeconds / Step) % 4)); // else after a check
    }

    private static void Same(IEnumerable<double> expected, RunningSample sample)
    {
        double[] all = [.. expected];
        double mean = all.Average(), squares = all.Sum(x => (x - mean) * (x - mean));
        Assert.Equal(all.Length, sample.Count);
        Assert.True(Math.Abs(sample.Mean - mean) <= 1e-12 * mean, $"{sample.Mean} {mean}"); // two orders of summation of 180 equal numbers
        Assert.True(Math.Abs(sample.M2 - squares) <= 1e-9 * squares, $"{sample.M2} {squares}"); // differences of numbers that agree to one in a hundred
    }
}
