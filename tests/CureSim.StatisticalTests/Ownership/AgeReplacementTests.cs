using CureSim.Core.Cell;
using CureSim.Engine.Plan;
using CureSim.Engine.Runs;
using CureSim.Scenarios;

namespace CureSim.StatisticalTests.Ownership;

/// <summary>Emitters with Weibull lives replaced at an age: cost rate [c_p·R(T) + c_f·F(T)]/∫₀ᵀR dt on completed cycles, and the ledger against the events it sums.</summary>
/// <remarks>
/// Source: the renewal-reward theorem for age replacement (R. E. Barlow and F. Proschan, Mathematical Theory of Reliability, 1965, section 4.2, recalled from memory); C1.7:
/// β 4, η 4000 h, c_p 800, c_f 3000: 0.456051 an hour at 2370 h, 0.494293 at 3000 h. Cycles that began before horizon − 2T are all complete, whichever way they end,
/// so that none is left out because it is long. Fixed seed; three standard errors by lifetime.
/// </remarks>
public class AgeReplacementTests
{
    private const int Lifetimes = 100;

    private static Scenario Cell(int replaceAt) => Read($$"""
        curesim: 1
        name: age replacement
        production: { rate: 1 /h, shift: 10 h, step: 10 h, hours_a_day: 20, days_a_week: 5, weeks_a_year: 50, horizon: 10 yr }
        source: { kind: own, lit: whole shift, irradiance: 4 W/cm2, ageing: { exponential: { time: 100000 h } }, failure: { weibull: { shape: 4, scale: 4000 h } }, replace_at: {{replaceAt}} h, drive_step: 0 %, drive_minimum: 5 % }
        exposure: { time: 1 s }
        window: { dose: { lower: 0.1 J/cm2, upper: 100 J/cm2 } }
        requalification: { capability: none }
        run: { lifetimes: {{Lifetimes}}, seed: 20268 }
        """);

    private static Scenario Read(string text)
    {
        var reading = ScenarioReader.ReadText(text, "test.yaml");
        Assert.Empty(reading.Problems);
        return reading.Cell!;
    }

    [Theory]
    [InlineData(2370, 0.456051)]
    [InlineData(3000, 0.494293)]
    public void CostRate_OfCompletedCycles_IsThatOfAgeReplacement(int age, double expected)
    {
        var plan = new RunPlan(Cell(age));
        double horizon = plan.Scenario.Production.HorizonSeconds / 3600;
        var (costs, hours) = (new double[Lifetimes], new double[Lifetimes]);
        for (uint i = 0; i < Lifetimes; i++)
        {
            double began = 0;
            foreach (var e in LocalRunner.Trace(plan, 0, i).Events.Where(e => e.What is "emitter failed" or "emitter replaced"))
            {
                double at = e.Seconds / 3600;
                if (began < horizon - (2 * age))
                {
                    costs[i] += e.What == "emitter failed" ? 3000 : 800;
                    hours[i] += at - began;
                }

                began = at;
            }
        }

        double rate = costs.Sum() / hours.Sum();
        double error = Math.Sqrt(costs.Zip(hours, (c, h) => Math.Pow(c - (rate * h), 2)).Sum() * Lifetimes / (Lifetimes - 1.0)) / hours.Sum();
        Assert.True(Math.Abs(rate - expected) <= 3 * error, $"{rate} ± {error}, expected {expected}");

        // The planted error: emitters run to failure, 0.827447 an hour.
        Assert.True(Math.Abs(rate - 0.827447) > 3 * error);
        Assert.True(error < 0.025 * expected, $"{error}: too few cycles to tell");
    }

    [Fact]
    public void Ledger_SumsWhatHappened_AndChangesNothing()
    {
        var plan = new RunPlan(Cell(3000));
        var ledger = new YearLedger(plan.Scenario);
        var with = new LocalRunner(plan, 2) { Beside = new() { Ledger = ledger } }.Run();
        var without = new LocalRunner(new RunPlan(Cell(3000)), 1).Run();
        double year = plan.Scenario.Production.YearSeconds;
        for (int i = 0; i < Lifetimes; i++)
        {
            var (a, b) = (with.Records[i], without.Records[i]);
            Assert.Equal((b.PartsMade, b.EmittersFailed, b.EmittersPlanned, b.DowntimeSeconds), (a.PartsMade, a.EmittersFailed, a.EmittersPlanned, a.DowntimeSeconds));
            var lines = ledger.Of(i);
            Assert.Equal((a.PartsMade, a.EmittersFailed, a.EmittersPlanned + a.EmittersShort, a.DowntimeSeconds), (lines[^1].PartsMade, lines[^1].EmittersFailed, lines[^1].EmittersReplaced, lines[^1].DowntimeSeconds));
        }

        var events = LocalRunner.Trace(plan, 0, 3).Events;
        for (int y = 1; y <= 10; y++)
        {
            Assert.Equal(events.Count(e => e.What == "emitter failed" && e.Seconds <= y * year), ledger.Of(3)[y - 1].EmittersFailed);
            Assert.Equal(events.Count(e => e.What == "emitter replaced" && e.Seconds <= y * year), ledger.Of(3)[y - 1].EmittersReplaced);
        }
    }
}
