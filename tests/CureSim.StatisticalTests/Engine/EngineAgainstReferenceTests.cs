namespace CureSim.StatisticalTests.Engine;

/// <summary>The block engine equals the plain scalar engine: every step, every bond, every event, every total.</summary>
public class EngineAgainstReferenceTests
{
    public static TheoryData<string> Cells => [.. BusyCells.All().Select(c => c.Name)];

    [Theory]
    [MemberData(nameof(Cells))]
    public void Lifetime_ThroughBothEngines_IsTheSame(string name)
    {
        var cell = BusyCells.All().Single(c => c.Name == name).Cell;
        for (uint lifetime = 0; lifetime < 3; lifetime++)
        {
            Assert.Empty(EngineComparison.Differences(cell, 0, lifetime));
        }
    }

    [Fact]
    public void Comparison_OfDifferentCells_FindsTheDifference()
    {
        // The planted error: the same lifetime of a cell whose guide loses 1 % more.
        var cell = BusyCells.Lamp();
        var other = cell with { Guide = cell.Guide! with { Loss = BusyCells.L("guide.loss", Core.Cell.Level.Guide, .1515 / 3.6e6, 1.5) } };
        Assert.NotEmpty(EngineComparison.Differences(cell, 0, 0, other));
    }

    [Fact]
    public void Lifetime_InAnyBlock_IsTheSame()
    {
        var plan = new CureSim.Engine.Plan.RunPlan(BusyCells.Lamp() with { Run = new(1, 150, 2, 5) });
        var together = new CureSim.Engine.Runs.LocalRunner(plan, 2).Run().Records;
        for (uint lifetime = 0; lifetime < 150; lifetime += 37)
        {
            var alone = new CureSim.Core.Summaries.LifetimeRecord[1];
            new CureSim.Engine.Block.LifetimeBlock(
                plan.FirstWorld, lifetime, 1, [new(plan.Layout, false)], new(plan.Layout, true), alone).Run(CancellationToken.None);
            alone[0].Batch = together[(int)lifetime].Batch;
            Assert.Equal(together[(int)lifetime], alone[0]);
        }
    }

    [Theory]
    [InlineData(2)]
    [InlineData(7)]
    public void Run_OnAnyNumberOfThreads_GivesTheSameBits(int threads)
    {
        var plan = new CureSim.Engine.Plan.RunPlan(BusyCells.Lamp() with { Run = new(1, 700, 2, 5) });
        var one = new CureSim.Engine.Runs.LocalRunner(plan, 1).Run();
        var many = new CureSim.Engine.Runs.LocalRunner(plan, threads).Run();
        Assert.Equal(one.Records.ToArray(), many.Records.ToArray());
        Assert.Equal(one.Total.BySite.Cast<CureSim.Core.Summaries.Moments>(), many.Total.BySite.Cast<CureSim.Core.Summaries.Moments>());
        Assert.Equal(one.Total.ByBin.Cast<CureSim.Core.Summaries.Moments>(), many.Total.ByBin.Cast<CureSim.Core.Summaries.Moments>());
        Assert.Equal(one.Total.Shares.Variance, many.Total.Shares.Variance);
        Assert.Equal(one.Total.Histograms[0, 0].Counts, many.Total.Histograms[0, 0].Counts);
    }
}
