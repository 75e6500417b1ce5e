using CureSim.Core.Statistics;

namespace CureSim.Tests.Statistics;

/// <summary>Factors of single years against annuities, tables and published present values.</summary>
public sealed class YearFactorsTests
{
    private static double Sum(double rate, double growth, int years, FlowTiming timing) => Enumerable.Range(1, years).Sum(y => YearFactors.Of(rate, growth, y, timing));

    // Source: NIST Handbook 135 (UPV 3 %, 25 yr = 17.41) and standard P/A tables, rows ECO-UPV-*; recomputed. 1e-9 as in those rows.
    [Theory]
    [InlineData(0.03, 25, 17.41314769, 17.67241477, 17.93554212, 17.67305815)]
    [InlineData(0.08, 20, 9.818147407, 10.20331809, 10.6035992, 10.20583637)]
    [InlineData(0.1, 5, 3.790786769, 3.975810705, 4.169865446, 3.977315726)]
    public void Sum_OverYears_IsThePresentValueFactor(double rate, int years, double end, double middle, double begin, double evenly)
    {
        // Ten digits were written down: 5e-9 of rounding beside the 1e-9 of the rows.
        (FlowTiming Timing, double Expected)[] all = [(FlowTiming.End, end), (FlowTiming.Middle, middle), (FlowTiming.Begin, begin), (FlowTiming.Continuous, evenly)];
        foreach (var (timing, expected) in all)
        {
            Assert.Equal(expected, Sum(rate, 0.0, years, timing), 6e-9);
            Assert.Equal(Annuity.PresentValueFactor(rate, years, timing), Sum(rate, 0.0, years, timing), 1e-12 * years);
        }
    }

    // Source: C13.1, standard annuity factors; seven digits.
    [Theory]
    [InlineData(0.08, 10, 1.0, 6.710081)]
    [InlineData(0.05, 5, 1.0, 4.329477)]
    [InlineData(0.08, 7, 1000.0, 5206.37)]
    public void Annuity_OfTheHandbook(double rate, int years, double flow, double expected) =>
        Assert.Equal(expected, flow * Sum(rate, 0.0, years, FlowTiming.End), expected > 1000 ? 5e-3 : 5e-7);

    // Source: row ECO-NPV: numpy-financial docstring (BSD), published 3065.22267.
    [Fact]
    public void NetPresentValue_OfUnevenFlows()
    {
        double[] flows = [-40000, 5000, 8000, 12000, 30000];
        double sum = flows[0] + Enumerable.Range(1, 4).Sum(y => flows[y] * YearFactors.Of(0.08, 0.0, y, FlowTiming.End));
        Assert.Equal(3065.22267, sum, 5e-6);
        Assert.Equal(CashFlow.NetPresentValue(0.08, flows), sum, 1e-9);
    }

    // Closed form of a geometric series: q(1 − qⁿ)/(1 − q), q = (1 + g)/(1 + r): the modified uniform present value factor of NIST Handbook 135.
    [Theory]
    [InlineData(0.08, 0.02, 8)]
    [InlineData(0.03, 0.05, 12)]
    public void GrowingPrices_GiveTheGeometricSeries(double rate, double growth, int years)
    {
        double q = (1 + growth) / (1 + rate), expected = q * (1 - Math.Pow(q, years)) / (1 - q);
        Assert.Equal(expected, Sum(rate, growth, years, FlowTiming.End), 1e-12 * years);
        Assert.Equal(expected / q, Sum(rate, growth, years, FlowTiming.Begin), 1e-12 * years);

        // Evenly: the same series times the mean of q^t over one year.
        Assert.Equal(expected / q * (q - 1) / Math.Log(q), Sum(rate, growth, years, FlowTiming.Continuous), 1e-11 * years);
    }

    [Fact]
    public void GrowthThatEqualsTheRate_CountsYears() => Assert.All(Enum.GetValues<FlowTiming>(), t => Assert.Equal(7.0, Sum(0.05, 0.05, 7, t), 1e-13));

    [Fact]
    public void RateOfMinusOne_IsRefused() => Assert.Throws<ArgumentOutOfRangeException>(() => YearFactors.Of(-1.0, 0.0, 1, FlowTiming.End));
}
