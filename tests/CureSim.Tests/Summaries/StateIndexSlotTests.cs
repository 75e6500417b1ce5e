using CureSim.Core.Summaries;

namespace CureSim.Tests.Summaries;

/// <summary>Slots of the state index: 1400 inner ones from −3 to 4, one below, one above.</summary>
public class StateIndexSlotTests
{
    [Theory]
    [InlineData(double.NegativeInfinity, 0)]
    [InlineData(double.NaN, 0)]
    [InlineData(-3.001, 0)]
    [InlineData(-3.0, 1)]
    [InlineData(0.0, 601)]
    [InlineData(3.9999, 1400)]
    [InlineData(4.0, 1401)]
    [InlineData(1e12, 1401)]
    [InlineData(double.PositiveInfinity, 1401)] // p(state) = 0: nothing varies from part to part
    public void Every_index_has_a_slot(double index, int slot) => Assert.Equal(slot, SummaryLayout.IndexSlot(index));
}
