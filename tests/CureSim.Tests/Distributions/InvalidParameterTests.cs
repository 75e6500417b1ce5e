using CureSim.Core.Distributions;

namespace CureSim.Tests.Distributions;

/// <summary>Parameters out of range are refused with a message that names parameter and value.</summary>
public class InvalidParameterTests
{
    private static readonly NormalDistribution Standard = new(0, 1);

    private static readonly (Func<object> Make, string Parameter, string Value)[] Cases =
    [
        (() => new NormalDistribution(double.NaN, 1), "mean", "NaN"),
        (() => new NormalDistribution(0, 0), "sd", "0"),
        (() => new NormalDistribution(0, -1.5), "sd", "-1.5"),
        (() => new NormalDistribution(0, double.NaN), "sd", "NaN"),
        (() => new LognormalDistribution(0, 1.2), "median", "0"),
        (() => new LognormalDistribution(1, 1), "gsd", "1"),
        (() => new LognormalDistribution(1, double.NaN), "gsd", "NaN"),
        (() => LognormalDistribution.FromMeanAndSd(-2, 1), "mean", "-2"),
        (() => LognormalDistribution.FromMeanAndSd(2, double.PositiveInfinity), "sd", "∞"),
        (() => LognormalDistribution.FromLog(1, 0), "sigma", "0"),
        (() => LognormalDistribution.FromLog(double.NaN, 1), "mu", "NaN"),
        (() => new UniformDistribution(2, 2), "to", "2"),
        (() => new UniformDistribution(double.NegativeInfinity, 2), "from", "-∞"),
        (() => new UniformDistribution(0, double.NaN), "to", "NaN"),
        (() => new TriangularDistribution(1, 0.5, 2), "mode", "0.5"),
        (() => new TriangularDistribution(1, double.NaN, 2), "mode", "NaN"),
        (() => new TriangularDistribution(2, 2, 1), "max", "1"),
        (() => new BetaPertDistribution(1, 2.5, 2), "mode", "2.5"),
        (() => new BetaPertDistribution(1, 1, 1), "max", "1"),
        (() => new WeibullDistribution(0, 1), "shape", "0"),
        (() => new WeibullDistribution(1, double.NaN), "scale", "NaN"),
        (() => new GammaDistribution(-1, 1), "shape", "-1"),
        (() => new GammaDistribution(1, 0), "scale", "0"),
        (() => new BetaDistribution(0, 1), "a", "0"),
        (() => new BetaDistribution(1, double.NaN), "b", "NaN"),
        (() => new BetaDistribution(1, 1, 3, 3), "max", "3"),
        (() => new ExponentialDistribution(0), "mean", "0"),
        (() => new GumbelDistribution(double.NaN, 1), "location", "NaN"),
        (() => new GumbelDistribution(0, -3), "scale", "-3"),
        (() => new StudentTDistribution(0), "degreesOfFreedom", "0"),
        (() => new InverseGaussianDistribution(0, 1), "mean", "0"),
        (() => new InverseGaussianDistribution(1, double.NaN), "shape", "NaN"),
        (() => new DiscreteDistribution([], []), "probabilities", "0"),
        (() => new DiscreteDistribution([1, 2], [1]), "probabilities", "1"),
        (() => new DiscreteDistribution([1, 2], [0.5, 0.4]), "probabilities", "0.9"),
        (() => new DiscreteDistribution([1, 2], [1.5, -0.5]), "probabilities", "-0.5"),
        (() => new DiscreteDistribution([1, 1], [0.5, 0.5]), "values", "1"),
        (() => new DiscreteDistribution([1, double.NaN], [0.5, 0.5]), "values", "NaN"),
        (() => new EmpiricalDistribution([]), "sample", "0"),
        (() => new EmpiricalDistribution([4]), "sample", "1"),
        (() => new EmpiricalDistribution([1, 2, double.NaN]), "sample", "NaN"),
        (() => new ScaledDistribution(Standard, 0), "factor", "0"),
        (() => new ScaledDistribution(Standard, 1, double.NaN), "offset", "NaN"),
        (() => new TruncatedDistribution(Standard, 2, 2), "upper", "2"),
        (() => new TruncatedDistribution(Standard, double.NaN, 2), "upper", "2"),
        (() => new TruncatedDistribution(Standard, 9, 10), "upper", "10"),
        (() => new TruncatedDistribution(new FixedValue(1), 0, 2), "inner", "FixedValue"),
        (() => new TruncatedDistribution(new ScaledDistribution(new FixedValue(1), 2), 0, 3), "inner", "ScaledDistribution"),
    ];

    public static TheoryData<int> Indices => new(Enumerable.Range(0, Cases.Length));

    [Theory]
    [MemberData(nameof(Indices))]
    public void Is_refused(int index)
    {
        var (make, parameter, value) = Cases[index];
        var error = Assert.Throws<ArgumentException>(make);
        Assert.Equal(parameter, error.ParamName);
        Assert.Contains(parameter, error.Message, StringComparison.Ordinal);
        Assert.Contains(value.Replace("∞", "Infinity", StringComparison.Ordinal), error.Message.Replace("∞", "Infinity", StringComparison.Ordinal), StringComparison.Ordinal);
    }
}
