using CureSim.Core.Statistics;

namespace CureSim.Tests.Statistics;

/// <summary>Chance that a plan accepts independent parts. Values from SciPy 1.10.1: binom.cdf(c, n, p) and nct.sf(k·√n, n − 1, √n·norm.isf(p)).</summary>
public class OperatingCharacteristicTests
{
    [Theory]
    [InlineData(59, 0, 0.05, 0.04849452524942322)]
    [InlineData(93, 1, 0.05, 0.04997579524261633)]
    [InlineData(30, 2, 0.02, 0.9782821654563826)]
    public void Attribute_IsTheBinomial(int parts, int allowed, double p, double expected) =>
        Assert.Equal(expected, OperatingCharacteristic.Attribute(parts, allowed, p), 1e-11); // both are good to 1e-12

    [Theory]
    [InlineData(30, 2.219837532, 0.05, 0.05000000000901673)]
    [InlineData(30, 2.219837532, 0.01, 0.6471273605582248)]
    [InlineData(10, 2.0, 0.001, 0.9756561260969889)]
    [InlineData(50, 4.5, 1e-5, 0.33202789315235587)]
    public void Measured_IsTheNoncentralT(int parts, double factor, double p, double expected) =>
        Assert.Equal(expected, OperatingCharacteristic.Measured(parts, factor, p), 1e-9); // SciPy's noncentral t keeps about ten digits

    [Fact]
    public void Attribute_PartsThatAreNotWhole_LieBetweenTheirNeighbours()
    {
        double between = OperatingCharacteristic.Attribute(20.5, 1, 0.1);
        Assert.InRange(between, OperatingCharacteristic.Attribute(21, 1, 0.1), OperatingCharacteristic.Attribute(20, 1, 0.1));
        Assert.Equal(Math.Pow(0.9, 7.25), OperatingCharacteristic.Attribute(7.25, 0, 0.1), 1e-13); // c = 0: (1 − p)ⁿ for any n
    }

    [Fact]
    public void Ends_AreOneAndZero()
    {
        Assert.Equal(1.0, OperatingCharacteristic.Attribute(5, 0, 0.0));
        Assert.Equal(0.0, OperatingCharacteristic.Attribute(5, 0, 1.0));
    }

    [Fact]
    public void Nonsense_IsRefused()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => OperatingCharacteristic.Attribute(3, 3, 0.1));
        Assert.Throws<ArgumentOutOfRangeException>(() => OperatingCharacteristic.Attribute(3, 0, 1.1));
        Assert.Throws<ArgumentOutOfRangeException>(() => OperatingCharacteristic.Measured(1, 2.0, 0.1));
        Assert.Throws<ArgumentOutOfRangeException>(() => OperatingCharacteristic.Measured(5, 2.0, 0.0));
    }
}
