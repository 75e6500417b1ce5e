using CureSim.Checks.Fixtures;
using CureSim.Core.Cell;
using CureSim.Engine.Plan;
using CureSim.Engine.Runs;

namespace CureSim.StatisticalTests.Engine;

/// <summary>Checks beside the calendar: where they fall, worked by hand.</summary>
public class UnevenCheckTests
{
    private const double Step = 28800;

    private static ScenarioBuilder Cell() => new ScenarioBuilder().Clock(Step, 40).Irradiance(2e4).Run(seed: 7);

    private static int[] CheckSteps(ScenarioBuilder cell) =>
        [.. LocalRunner.Trace(new RunPlan(cell.Build()), 0, 0).Events.Where(e => e.What == "as found").Select(e => (int)Math.Round(e.Seconds / Step))];

    [Fact]
    public void Checks_AfterAReplacement_FollowItBesideTheCalendar()
    {
        // Calendar 16, 32; new at 0 and, lit all the time, replaced at the end of step 20: every 3 steps for 10 steps from both.
        var cell = Cell().ReplaceEmitterAt(20 * Step).Checks(16, 1e4, action: 0.5, tolerance: 0.5)
            .With(s => s with { Checks = s.Checks! with { AfterReplacement = new(3, 10) } });
        Assert.Equal([3, 6, 9, 16, 23, 26, 29, 32], CheckSteps(cell));

        // An emitter that was there before is not new.
        var inUse = cell.Now(new PresentState([10 * Step], null, null, null, null, null));
        Assert.Equal([13, 16, 19, 32, 33, 36, 39], CheckSteps(inUse));
    }

    [Fact]
    public void Check_ByDrive_IsMadeOnceWhenItPassesTheLimit()
    {
        // Ideal loop, output e^(−a·h), set to half of full output: drive 0.5·e^(a·h), at the middle of step k h = k + ½. It passes 0.79 when
        // a·(k + ½) > ln 1.58 = 0.4574: with a = 0.02 a step in step 23 (0.47; step 22: 0.45), so the check is at the end of it, 24; not again while it stays above.
        var cell = Cell().ExponentialAgeing(50 * Step).Irradiance(2e4).Checks(100, 1e4, action: 0.5, tolerance: 0.5)
            .With(s => s with
            {
                Loop = s.Loop with { Kind = LoopKind.OutputSensor },
                Checks = s.Checks! with { WhenDriveAbove = 0.79 },
            });
        Assert.Equal([24], CheckSteps(cell));
    }

    [Theory]
    [InlineData(true, new[] { 36 })]
    [InlineData(false, new int[0])]
    public void Check_ByAlarm_FollowsSaturation(bool asked, int[] expected)
    {
        // The same cell saturates when a·(k + ½) > ln 2 = 0.6931: step 35 at 0.71 (step 34: 0.69), so the check is at 36, and only
        // there: it finds the loop saturated, and the alarm does not ask again before a check has found it held or the emitter is new.
        var cell = Cell().ExponentialAgeing(50 * Step).Checks(100, 1e4, action: 0.5, tolerance: 0.5)
            .With(s => s with { Loop = s.Loop with { Kind = LoopKind.OutputSensor, Alarm = true }, Checks = s.Checks! with { WhenAlarm = asked } });
        Assert.Equal(expected, CheckSteps(cell));
    }

    [Fact]
    public void Checks_OfBusyCells_AreReallyUneven()
    {
        // The comparison of both engines says nothing about a rule that never acts.
        foreach (var (name, cell) in BusyCells.All().Where(c => c.Cell.Checks is { AreUneven: true }))
        {
            var records = new LocalRunner(new RunPlan(cell with { Run = new(1, 8, 1, 11) }), 1).Run().Records;
            Assert.True(records.Sum(r => r.ChecksExtra) >= 8, name);
        }
    }
}
