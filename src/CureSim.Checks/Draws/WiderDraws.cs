using CureSim.Checks.Comparing;
using CureSim.Checks.Fixtures;
using CureSim.Core.Cell;
using CureSim.Core.Distributions;
using CureSim.Engine.Plan;
using CureSim.Engine.Runs;
using static CureSim.Checks.Fixtures.Uncertain;

namespace CureSim.Checks.Draws;

/// <summary>Levels that stay within a lifetime (cell) or within a world, and draws of which there are several in a step (readings, parts).</summary>
internal static class WiderDraws
{
    private const double Step = 28800;

    public static IEnumerable<Check> All()
    {
        yield return Entry("DRAW-CELL", Level.Cell, "drift of the loop's sensor, once a lifetime", CellLevel);
        yield return Entry("DRAW-WORLD", Level.World, "unknown output, once a world, beside what varies", WorldLevel);
        yield return Entry("DRAW-READINGS", Level.Reading, "as found, before and after setting: a draw for every reading of every site", Readings);
        yield return Entry("DRAW-PARTS", Level.Part, "ripple of own heads once a site, exposure time once a part, in every step", Parts);
    }

    private static Check Entry(string id, Level level, string what, Func<CheckOutcome> evaluate) => new(
        id, Topics.Draws, $"Level {level}: {what}", "docs/model.md, section 1: the event at which each level is drawn again", Provenances.ClosedForm,
        CheckKind.Deterministic, ThroughEngine: true, evaluate);

    private static ExactComparison Counts() => new(0, "counts");

    private static CheckOutcome CellLevel()
    {
        var plan = new RunPlan(new ScenarioBuilder().Clock(Step, 20).OutputSensor(Log(1e-3 / Step)).Drive(0.5).Run(lifetimes: 50, seed: 21).Build());
        double[][] drifts = [.. Enumerable.Range(0, 50).Select(i =>
            LocalRunner.Trace(plan, 0, (uint)i).Steps.Select(s => -Math.Log(s.Sites[0].NominalIrradiance / 5e3) / s.Seconds).ToArray())];
        var found = Counts();
        found.Add("lifetimes with one drift throughout", 50, drifts.Count(s => DrawCount.Different(s) == 1));
        found.Add("different drifts in fifty lifetimes", 50, DrawCount.Different(drifts.Select(s => s[0])));
        found.Plant("one drift for all lifetimes", 1, DrawCount.Different(drifts.Select(s => s[0])));
        return found.Outcome();
    }

    private static CheckOutcome WorldLevel()
    {
        ScenarioBuilder Plant(IDistribution? notKnown) => new ScenarioBuilder().Clock(Step, 20).ReplaceEmitterAt(Step).Limit(Response.Dose, 1, 1e6)
            .Irradiance(new Uncertain(new NormalDistribution(1e4, 10), notKnown)).Run(worlds: 10, lifetimes: 5, seed: 22);
        var known = new RunPlan(Plant(null).Build());
        var unknown = new RunPlan(Plant(new NormalDistribution(1, 0.1)).Build());
        double[] Ratios(int world, uint lifetime) => [.. LocalRunner.Trace(unknown, world, lifetime).Bonds
            .Zip(LocalRunner.Trace(known, world, lifetime).Bonds, (a, b) => a.Irradiance / b.Irradiance)];
        double[][] worlds = [.. Enumerable.Range(0, 10).Select(w => Enumerable.Range(0, 5).SelectMany(i => Ratios(w, (uint)i)).ToArray())];
        var found = Counts();
        found.Add("worlds with one factor on all draws of all lifetimes", 10, worlds.Count(w => DrawCount.Different(w) == 1));
        found.Add("different factors in ten worlds", 10, DrawCount.Different(worlds.Select(w => w[0])));
        found.Plant("drawn anew for each lifetime", 5, DrawCount.Different(worlds[0]));
        return found.Outcome();
    }

    private static CheckOutcome Readings()
    {
        var trace = Simulated.Trace(new ScenarioBuilder().Clock(Step, 40).Sites(2).Irradiance(5e4).Checks(4, 2e4, action: 1, tolerance: 1)
            .Radiometer(repeatability: Log(0.01)).Run(seed: 23).Build());
        double drive = 1;
        var errors = new List<double>();
        var waiting = new List<double>();
        foreach (var e in trace.Events)
        {
            // The trace writes a setting down after its as-left readings.
            if (e.What == "set")
            {
                drive = e.Value!.Value;
                errors.AddRange(waiting.Select(v => Math.Log(v / (5e4 * drive))));
                waiting.Clear();
            }
            else if (e.What == "as left")
            {
                waiting.Add(e.Value!.Value);
            }
            else if (e.What is "read" or "as found")
            {
                errors.Add(Math.Log(e.Value!.Value / (5e4 * drive)));
            }
        }

        var found = Counts();
        found.Add("readings of two sites: two at commissioning, three at each of ten checks", 2 * (2 + (3 * 10)), errors.Count);
        found.Add("different errors", 64, DrawCount.Different(errors));
        found.Plant("one error a check and site", 2 * 11, DrawCount.Different(errors));
        return found.Outcome();
    }

    private static CheckOutcome Parts()
    {
        var trace = Simulated.Trace(new ScenarioBuilder().Clock(Step, 20).Sites(4, sitesPerPart: 2).OneEmitterASite().Ripple(Log(0.01))
            .Exposure(1, error: Log(0.01)).Limit(Response.Dose, 1, 1e6).Run(partsAStep: 3, seed: 24).Build());
        var found = Counts();
        found.Add("bonds: four sites, three parts, twenty steps", 240, trace.Bonds.Count);
        found.Add("different ripples", 240, DrawCount.Different(trace.Bonds.Select(b => b.Irradiance)));
        found.Add("different exposure times", 120, DrawCount.Different(trace.Bonds.Select(b => b.Dose / b.Irradiance)));
        found.Add("parts whose two bonds have one exposure time", 120, trace.Bonds.GroupBy(b => (b.Step, b.Part, b.Site / 2))
            .Count(g => g.Count() == 2 && DrawCount.Different(g.Select(b => b.Dose / b.Irradiance)) == 1));
        found.Plant("an exposure time for each bond", 240, DrawCount.Different(trace.Bonds.Select(b => b.Dose / b.Irradiance)));
        return found.Outcome();
    }

    private static Uncertain Log(double sd) => Varying(new NormalDistribution(0, sd));
}
