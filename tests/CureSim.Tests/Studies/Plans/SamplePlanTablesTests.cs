using CureSim.Core.Statistics;
using CureSim.Studies.Plans;

namespace CureSim.Tests.Studies.Plans;

/// <summary>Sample sizes and factors against the rows of published and recomputed values that are named beside each check.</summary>
public class SamplePlanTablesTests
{
    [Theory]
    [InlineData(0.95, 0.95, new long[] { 59, 93, 124, 153 })] // TOL-SR-0.95-0.95
    [InlineData(0.95, 0.99, new long[] { 299, 473, 628, 773 })] // TOL-SR-0.95-0.99
    [InlineData(0.90, 0.90, new long[] { 22, 38, 52, 65 })] // TOL-SR-0.9-0.9
    [InlineData(0.99, 0.999, new long[] { 4603, 6636, 8403, 10042 })] // TOL-SR-0.99-0.999
    public void Attribute_AcceptanceNumbers_AreTheRows(double confidence, double reliability, long[] parts)
    {
        var found = SamplePlanTables.Of(confidence, reliability).Attribute;
        Assert.Equal(parts, found.Select(p => p.Parts));
        Assert.All(found, p => Assert.InRange(p.Confidence, confidence, confidence + (1.0 - reliability)));
    }

    [Fact]
    public void Orders_95To99_AreTheRows()
    {
        // TOL-W1-95-99: 299, 473; TOL-W2-95-99: 473, 773.
        var found = SamplePlanTables.Of(0.95, 0.99).Orders;
        Assert.Equal([299, 473, 473, 773], found.Select(o => o.Parts));
        Assert.Equal([(false, 1), (false, 2), (true, 1), (true, 2)], found.Select(o => (o.TwoSided, o.Order)));
    }

    [Theory]
    [InlineData(10, 2.9109634131, 3.381913491, 3.39342948)] // TOL-K-10-95-95
    [InlineData(30, 2.219837532, 2.549635295, 2.55489281)] // TOL-K-30-95-95
    [InlineData(100, 1.9265388505, 2.232802921, 2.23388202)] // TOL-K-100-95-95
    public void Factors_95To95_AreTheRows(int parts, double oneSided, double howe, double twoSided)
    {
        var row = SamplePlanTables.Of(0.95, 0.95).Factors.Single(f => f.Parts == parts);
        Assert.Equal(oneSided, row.OneSided, 1e-7); // the rows state rel 1e-7
        Assert.Equal(howe, row.Howe, 1e-7);
        Assert.Equal(twoSided, row.TwoSided, 3e-7);
        Assert.False(row.IsOwn);
    }

    [Fact]
    public void OwnParts_HandbookExample_HasItsFactorAndWhatItShows()
    {
        // NIST/SEMATECH e-Handbook 7.2.6.3: N = 43, p = 0.90, confidence 0.99: exact one-sided k 1.8740 (TOL-03), Natrella 1.8752 (TOL-02), Howe 2.217 (TOL-01).
        var plans = SamplePlanTables.Of(0.99, 0.90, 43);
        var row = plans.Factors.Single(f => f.IsOwn);
        Assert.Equal(43, row.Parts);
        Assert.Equal(1.8740, row.OneSided, 5e-5);
        Assert.Equal(1.8752, row.Natrella!.Value, 5e-5);
        Assert.Equal(2.217, row.Howe, 5e-4);
        Assert.Equal(plans.Factors.OrderBy(f => f.Parts), plans.Factors);

        // Nothing nonconforming in n: the reliability shown is (1 − C)^(1/n).
        Assert.Equal(Math.Pow(0.01, 1.0 / 43.0), plans.Shown[0].Reliability, 1e-12);
        Assert.Equal([0, 1, 2, 3], plans.Shown.Select(s => s.Acceptance));
    }

    [Fact]
    public void Indices_LeastParts_AreTheFirstWhoseFactorFits()
    {
        var plans = SamplePlanTables.Of(0.95, 0.99);
        foreach (var plan in plans.Indices.Where(p => p.Parts is not null))
        {
            int n = (int)plan.Parts!.Value;
            Assert.True(NormalToleranceFactor.OneSided(n, 0.99, 0.95) <= 3.0 * plan.ObservedIndex);
            Assert.True(n == 2 || NormalToleranceFactor.OneSided(n - 1, 0.99, 0.95) > 3.0 * plan.ObservedIndex);
        }

        // An index of 1 stands for Φ(3) = 99.865 %: it can never show 99.9 %.
        Assert.Null(SamplePlanTables.Of(0.95, 0.999).Indices.Single(i => i.ObservedIndex == 1.0).Parts);
    }

    [Fact]
    public void Risks_Pairs_AreThoseOfTheirRows()
    {
        var risks = SamplePlanTables.Of(0.9, 0.9).Risks;
        Assert.Equal([(0.95, 0.99, 299L, 473L), (0.95, 0.95, 59L, 93L), (0.95, 0.90, 29L, 46L)], risks.Select(r => (r.Confidence, r.Reliability, r.WilksOneSided, r.WilksTwoSided)));
        Assert.Equal([29, 46, 61, 76], risks[2].Attribute.Select(a => a.Parts)); // TOL-SR-0.95-0.9
    }

    [Theory]
    [InlineData(1)]
    [InlineData(1_000_001)]
    public void OwnParts_OutsideTheirRange_AreRefused(int parts) => Assert.Throws<ArgumentOutOfRangeException>(() => SamplePlanTables.Of(0.95, 0.95, parts));
}
