using CureSim.Studies.ProcessWindow;

namespace CureSim.Tests.Studies.ProcessWindow;

public class MarginChangeTests
{
    private static NodeFigures Node(double[] margins, double[] batch) => new(
        1, 1, [.. margins.Select(_ => 1e-4)], new([.. margins.Select(_ => 3.0)], [.. margins.Select(_ => 0.0)]), new(margins, [.. margins.Select(_ => 0.0)]), [], [.. batch.Select(_ => 0.0)], batch, false);

    [Fact]
    public void WhatBothShare_GoesOut()
    {
        // Errors of the batches that are alike, but for one: only that one is left.
        double[] shared = [0.03, -0.02, 0.05, -0.06];
        var change = MarginChange.Of(Node([0.4], shared), Node([0.5], [0.03, -0.02, 0.05, -0.05]), 1);
        Assert.Equal(0.1, change.Value!.Value, 1e-15);
        Assert.Equal(0.01, change.StandardError!.Value, 1e-15);
        Assert.True(change.Lower95 > 0.0);
    }

    [Fact]
    public void WorldsThatAllMoveAlike_LeaveNoDoubt()
    {
        double[] worlds = [.. Enumerable.Range(0, 20).Select(w => 0.1 * Math.Sin(w))];
        var change = MarginChange.Of(Node(worlds, []), Node([.. worlds.Select(v => v + 0.25)], []), 1);

        // Whatever worlds are drawn, the percentile moves by a quarter: rounding only.
        Assert.Equal(0.25, change.Value!.Value, 1e-12);
        Assert.Equal(0.25, change.Lower95!.Value, 1e-12);
        Assert.Equal(0.25, change.Upper95!.Value, 1e-12);
    }

    [Fact]
    public void WorldsThatMoveDifferently_AreTold()
    {
        double[] worlds = [.. Enumerable.Range(0, 20).Select(w => 0.1 * Math.Sin(w))];
        var change = MarginChange.Of(Node(worlds, []), Node([.. worlds.Select((v, w) => v + (w % 2 == 0 ? 0.5 : 0.0))], []), 1);
        Assert.True(change.Upper95 - change.Lower95 > 0.05);
        Assert.InRange(change.Value!.Value, change.Lower95!.Value, change.Upper95!.Value);
    }
}
