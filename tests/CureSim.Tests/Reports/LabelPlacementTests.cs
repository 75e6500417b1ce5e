using CsCheck;
using CureSim.Reports.Rendering;

namespace CureSim.Tests.Reports;

public class LabelPlacementTests
{
    private const double Rounding = 1e-9; // sums of a few dozen numbers below 1000

    [Fact]
    public void Spread_RoomForAll_NoOverlapOrderKeptInside()
    {
        Gen.Double[0, 400].Array[1, 12].Sample(wishes =>
        {
            double[] heights = [.. wishes.Select(_ => 18.0)];
            double[] centres = LabelSpread.Place(wishes, heights, 0, 400);
            int[] order = [.. Enumerable.Range(0, wishes.Length).OrderBy(i => wishes[i]).ThenBy(i => i)];
            for (int k = 1; k < order.Length; k++)
            {
                Assert.True(centres[order[k]] - centres[order[k - 1]] >= 18 - Rounding);
            }

            Assert.All(centres, c => Assert.InRange(c, 9 - Rounding, 391 + Rounding));
        });
    }

    [Fact]
    public void Spread_FarApart_NothingMoves() =>
        Assert.Equal([300.0, 50, 120], LabelSpread.Place([300, 50, 120], [18, 18, 40], 0, 400));

    /// <summary>Two labels that wish the same place share the shift; so least squares has it.</summary>
    [Fact]
    public void Spread_SameWish_SharesTheShift() =>
        Assert.Equal([91.0, 109], LabelSpread.Place([100, 100], [18, 18], 0, 400));

    [Fact]
    public void Rows_ManyLines_NoTextHiddenOrCrossed()
    {
        Gen.Select(Gen.Double[40, 760], Gen.Double[20, 130]).Array[1, 9].Sample(labels =>
        {
            LabelRows.Placed[] places = LabelRows.Place(labels, 18, 782);
            for (int i = 0; i < places.Length; i++)
            {
                Assert.Equal(labels[i].Item1, places[i].Line);
                Assert.True(places[i].Left >= 18 - Rounding && places[i].Right <= 782 + Rounding);
                for (int j = 0; j < i; j++)
                {
                    // Lines closer than their clearance cannot be told apart by any placing.
                    if (Math.Abs(places[i].Line - places[j].Line) > 8)
                    {
                        Assert.False(Overlap(places[i], places[j]), $"{places[i]} and {places[j]}");
                    }
                }
            }
        });
    }

    [Fact]
    public void Rows_OneLabel_StandsOverItsLine()
    {
        LabelRows.Placed place = Assert.Single(LabelRows.Place([(400, 100)], 18, 782));
        Assert.Equal((350, 0), (place.Left, place.Row));
    }

    [Fact]
    public void Rows_LabelAtTheEdge_StaysInside()
    {
        LabelRows.Placed place = Assert.Single(LabelRows.Place([(780, 100)], 18, 782));
        Assert.True(place.Right <= 782);
    }

    [Fact]
    public void Rows_TextAtLeft_GivesWay()
    {
        LabelRows.Placed[] taken = LabelRows.Place([(100, 60)], 18, 782);
        Assert.Equal(1, LabelRows.RowAtLeft(taken, 18, 150));
        Assert.Equal(0, LabelRows.RowAtLeft(taken, 18, 30));
    }

    /// <summary>Written anew, not the placing's own rule: same row and texts that overlap, or a line through a text below its own.</summary>
    private static bool Overlap(LabelRows.Placed a, LabelRows.Placed b)
    {
        bool texts = a.Row == b.Row && a.Left < b.Right && b.Left < a.Right;
        bool through = (a.LineRows > b.Row && a.Line > b.Left && a.Line < b.Right) || (b.LineRows > a.Row && b.Line > a.Left && b.Line < a.Right);
        return texts || through;
    }
}
