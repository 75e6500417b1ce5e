using CureSim.Core.Statistics;
using CureSim.Studies.Runs;

namespace CureSim.Tests.Studies.Runs;

/// <summary>Intervals end where a figure cannot go.</summary>
public class PossibleIntervalTests
{
    private static Measure Of(string? unit, ErrorBy error) => new("figure", "a figure", unit, _ => null) { Error = error };

    [Theory]
    [InlineData("%", ErrorBy.Lifetimes, 12.0, -17.0, 42.0, 0.0, 42.0)]
    [InlineData("%", ErrorBy.Batches, 99.0, 96.0, 102.0, 96.0, 100.0)]
    [InlineData("ppm", ErrorBy.Lifetimes, 999_990.0, 999_970.0, 1_000_010.0, 999_970.0, 1_000_000.0)]
    [InlineData(null, ErrorBy.Lifetimes, 0.2, -0.1, 0.5, 0.0, 0.5)]
    // A plain number from batches may have either sign.
    [InlineData(null, ErrorBy.Batches, -0.2, -0.5, 0.1, -0.5, 0.1)]
    [InlineData("%", ErrorBy.Lifetimes, 50.0, 40.0, 60.0, 40.0, 60.0)]
    public void AShareStaysBetweenNothingAndAll(string? unit, ErrorBy error, double value, double lower, double upper, double least, double most)
    {
        var held = MeasureEstimator.Possible(Of(unit, error), Estimate.Bounded(value, 15.0, lower, upper, 8));
        Assert.Equal((value, 15.0, least, most, 8L), (held.Value, held.StandardError, held.Lower95, held.Upper95, held.Count));
    }

    [Fact]
    public void WhatHasNoIntervalOrNoValue_StaysAsItIs()
    {
        Assert.Null(MeasureEstimator.Possible(Of("%", ErrorBy.Lifetimes), Estimate.Bounded(0.0, null, null, null)).Lower95);
        Assert.Equal("why", MeasureEstimator.Possible(Of("%", ErrorBy.Lifetimes), Estimate.Withhold("why")).Withheld);
    }

    [Theory]
    // The relative variance of 2 ± 1 is 1/4; a probability of nothing has a square below the smallest double.
    [InlineData(1.0, 2.0, 0.25)]
    [InlineData(1e-300, 1e-170, 1e40)]
    [InlineData(0.0, 1e-200, 0.0)]
    public void TheVarianceOfALogarithm_IsANumber(double variance, double value, double wanted) => Assert.Equal(wanted, RunAnalysis.OfLogarithm(variance, value), 1e-12 * wanted);
}
