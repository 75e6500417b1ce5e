using CureSim.Core.Distributions;

namespace CureSim.Tests.Distributions;

/// <summary>One or more of each distribution, for tests that hold for all.</summary>
internal static class Examples
{
    public static readonly IReadOnlyDictionary<string, IDistribution> All = new Dictionary<string, IDistribution>
    {
        ["normal"] = new NormalDistribution(10, 2),
        ["lognormal"] = new LognormalDistribution(10, 1.2),
        ["lognormal from mean"] = LognormalDistribution.FromMeanAndSd(5, 3),
        ["uniform"] = new UniformDistribution(2, 12),
        ["triangular"] = new TriangularDistribution(2, 5, 12),
        ["triangular, mode at the end"] = new TriangularDistribution(-1, -1, 3),
        ["pert"] = new BetaPertDistribution(1, 2, 7),
        ["Weibull"] = new WeibullDistribution(1.5, 100),
        ["Weibull, early failures"] = new WeibullDistribution(0.8, 3),
        ["gamma"] = new GammaDistribution(2.5, 3),
        ["gamma, small shape"] = new GammaDistribution(0.4, 2),
        ["beta"] = new BetaDistribution(2, 5),
        ["beta on a range"] = new BetaDistribution(0.7, 0.6, -3, 8),
        ["exponential"] = new ExponentialDistribution(4),
        ["Student t"] = new StudentTDistribution(5),
        ["inverse Gaussian"] = new InverseGaussianDistribution(2, 8),
        ["Gumbel"] = new GumbelDistribution(10, 2),
        ["truncated normal"] = new TruncatedDistribution(new NormalDistribution(10, 2), 8, 13),
        ["truncated normal, tail"] = new TruncatedDistribution(new NormalDistribution(0, 1), 2, double.PositiveInfinity),
        ["truncated lognormal"] = new TruncatedDistribution(new LognormalDistribution(10, 1.5), 6, 20),
        ["truncated gamma"] = new TruncatedDistribution(new GammaDistribution(3, 2), 1, 15),
        ["truncated Weibull"] = new TruncatedDistribution(new WeibullDistribution(2, 5), 1, double.PositiveInfinity),
        ["scaled"] = new ScaledDistribution(new GammaDistribution(2, 1), 3, 1),
        ["mirrored"] = new ScaledDistribution(new WeibullDistribution(1.5, 2), -2, 10),
        ["empirical"] = new EmpiricalDistribution([3.1, 4.7, 5.0, 5.2, 6.8, 7.1, 8.4, 9.9, 12.3, 20.0]),
        ["discrete"] = new DiscreteDistribution([1, 2, 5], [0.2, 0.5, 0.3]),
        ["discrete, many values"] = new DiscreteDistribution([.. Enumerable.Range(0, 40).Select(i => i * 0.5)], [.. Enumerable.Repeat(0.025, 40)]),
        ["discrete, mirrored"] = new ScaledDistribution(new DiscreteDistribution([1, 2, 5], [0.2, 0.5, 0.3]), -1),
        ["fixed"] = new FixedValue(4.5),
    };

    public static TheoryData<string> Names => new(All.Keys);

    /// <summary>Those with a density: no steps in the Cdf.</summary>
    public static TheoryData<string> Continuous => new(All.Keys.Where(k => !HasSteps(k)));

    public static bool HasSteps(string name) =>
        name.StartsWith("discrete", StringComparison.Ordinal) || name is "fixed" or "empirical";
}
