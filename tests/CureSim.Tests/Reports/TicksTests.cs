using CureSim.Reports.Rendering;

namespace CureSim.Tests.Reports;

public class TicksTests
{
    [Theory]
    [InlineData(0, 10, 6, new[] { 0.0, 2, 4, 6, 8, 10 }, "0 2 4 6 8 10")]
    [InlineData(0.72, 1.0, 6, new[] { 0.75, 0.8, 0.85, 0.9, 0.95, 1.0 }, "0.75 0.80 0.85 0.90 0.95 1.00")]
    [InlineData(-0.3, 0.3, 7, new[] { -0.3, -0.2, -0.1, 0, 0.1, 0.2, 0.3 }, "−0.3 −0.2 −0.1 0 0.1 0.2 0.3")]
    [InlineData(0, 18750, 5, new[] { 0.0, 5000, 10000, 15000 }, "0 5\u202F000 10\u202F000 15\u202F000")]
    public void Linear_Range_RoundPlacesOneNumberOfDecimals(double from, double to, int count, double[] places, string labels)
    {
        Ticks ticks = Ticks.Linear(from, to, count, whole: false);
        Assert.Equal(places.Length, ticks.Labelled.Count);
        for (int i = 0; i < places.Length; i++)
        {
            Assert.Equal(places[i], ticks.Labelled[i], 1e-12); // multiples of the step, but for rounding
        }

        Assert.Equal(labels, string.Join(' ', ticks.Labelled.Select(ticks.Show)));
    }

    [Fact]
    public void Linear_WholeNumbers_NoFractions()
    {
        Assert.Equal([0.0, 1, 2], Ticks.Linear(0, 2, 10, whole: true).Labelled);
        Assert.Equal([0.0, 0.5, 1, 1.5, 2], Ticks.Linear(0, 2, 7, whole: false).Labelled);
    }

    [Fact]
    public void Logarithmic_ManyDecades_PowersOfTen()
    {
        Ticks ticks = Ticks.Logarithmic(1e-6, 1, 7);
        Assert.Equal("10⁻⁶ 10⁻⁵ 10⁻⁴ 10⁻³ 10⁻² 10⁻¹ 10⁰", string.Join(' ', ticks.Labelled.Select(ticks.Show)));
    }

    [Fact]
    public void Logarithmic_TwoDecades_OneTwoFive()
    {
        Ticks ticks = Ticks.Logarithmic(1, 100, 10);
        Assert.Equal("1 2 5 10 20 50 100", string.Join(' ', ticks.Labelled.Select(ticks.Show)));
        Assert.Contains(3.0, ticks.Plain);
    }

    [Fact]
    public void Logarithmic_FractionOfADecade_LikeLinear() =>
        Assert.Equal([0.8, 0.9, 1.0], Ticks.Logarithmic(0.8, 1, 3).Labelled.Select(v => Math.Round(v, 12)));
}
