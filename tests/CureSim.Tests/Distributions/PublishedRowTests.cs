using System.Globalization;
using System.Text.RegularExpressions;
using CureSim.Core.Distributions;
using CureSim.Tests.Numerics;

namespace CureSim.Tests.Distributions;

/// <summary>Rows DIS-* of the published check values: definitions through SciPy 1.10 and R (recomputed).</summary>
public partial class PublishedRowTests
{
    private static readonly double[] Sample = [3.1, 4.7, 5.0, 5.2, 6.8, 7.1, 8.4, 9.9, 12.3, 20.0];

    private static readonly Dictionary<string, IDistribution> Rows = new()
    {
        ["DIS-NORM"] = new NormalDistribution(10, 2),
        ["DIS-TN1"] = new TruncatedDistribution(new NormalDistribution(10, 2), 8, 13),
        ["DIS-TN2"] = new TruncatedDistribution(new NormalDistribution(0, 1), 2, double.PositiveInfinity),
        ["DIS-LN2"] = new LognormalDistribution(10, 1.2),
        ["DIS-UNI"] = new UniformDistribution(2, 12),
        ["DIS-TRI"] = new TriangularDistribution(2, 5, 12),
        ["DIS-WEI"] = new WeibullDistribution(1.5, 100),
        ["DIS-GAM"] = new GammaDistribution(2.5, 3),
        ["DIS-BETA"] = new BetaDistribution(2, 5),
        ["DIS-T"] = new StudentTDistribution(5),
        ["DIS-IG"] = new InverseGaussianDistribution(2, 8),
        ["DIS-GUM"] = new GumbelDistribution(10, 2),
    };

    public static TheoryData<string> Ids => new(Rows.Keys);

    [Theory]
    [MemberData(nameof(Ids))]
    public void Moments_density_probability_and_quantiles(string id)
    {
        var d = Rows[id];
        var expected = Read(id);
        Close(id, expected["mean"].Values[0], d.Mean);
        Close(id, expected["sd"].Values[0], d.StandardDeviation);
        double[] x = expected["pdf"].Arguments;
        for (int i = 0; i < x.Length; i++)
        {
            Close(id, expected["pdf"].Values[i], d.Density(x[i]));
            Close(id, expected["cdf"].Values[i], d.Cdf(x[i]));
            Close(id, 1.0 - expected["cdf"].Values[i], d.Survival(x[i]));
        }

        double[] p = expected["quantile"].Arguments;
        for (int i = 0; i < p.Length; i++)
        {
            Close(id, expected["quantile"].Values[i], d.QuantileExact(p[i]));
        }

        Assert.True(x.Length == 3 && p.Length == 5);
    }

    [Theory]
    [InlineData("DIS-EMP-hazen", SampleQuantileType.Hazen)]
    [InlineData("DIS-EMP-weibull", SampleQuantileType.Weibull)]
    [InlineData("DIS-EMP-linear", SampleQuantileType.Linear)]
    public void Sample_quantiles(string id, SampleQuantileType type)
    {
        string[] row = Row(id);
        double[] p = Numbers(row[2][row[2].IndexOf("p=", StringComparison.Ordinal)..row[2].IndexOf(']', row[2].IndexOf("p=", StringComparison.Ordinal))]);
        double[] expected = Numbers(row[3]);
        Assert.Equal(9, p.Length);
        for (int i = 0; i < p.Length; i++)
        {
            Assert.Equal(expected[i], SampleQuantile.Of(Sample, p[i], type), 1e-12); // the row's tolerance
            if (type == SampleQuantileType.Hazen)
            {
                Assert.Equal(expected[i], new EmpiricalDistribution(Sample).Quantile(p[i]), 1e-12);
            }
        }
    }

    /// <summary>Row DIS-EMP-SUM, as far as this class computes it: mean and standard deviation.</summary>
    [Fact]
    public void Sample_moments()
    {
        var d = new EmpiricalDistribution(Sample);
        var expected = Read("DIS-EMP-SUM");
        Assert.Equal(expected["mean"].Values[0], d.Mean, 1e-12);
        Assert.Equal(expected["sd"].Values[0], d.SampleStandardDeviation, 1e-11); // printed to 11 decimals
    }

    [Fact]
    public void Discrete()
    {
        var d = new DiscreteDistribution([1, 2, 5], [0.2, 0.5, 0.3]);
        var expected = Read("DIS-DISC");
        Assert.Equal(expected["mean"].Values[0], d.Mean, 1e-15);
        Assert.Equal(expected["var"].Values[0], d.StandardDeviation * d.StandardDeviation, 1e-14);
        Assert.Equal([0.2, 0.7, 1.0, 0.0, 0.2], new[] { d.Cdf(1), d.Cdf(2), d.Cdf(5), d.Cdf(0.99), d.Cdf(1.99) });
        Assert.Equal([1.0, 2.0, 2.0, 5.0], new[] { 0.2, 0.2000001, 0.7, 0.7000001 }.Select(d.Quantile));
    }

    /// <summary>Relative 10⁻⁹ as the rows ask; values are printed to 12 digits. At 0 (SciPy prints 7·10⁻¹⁷ there) absolute.</summary>
    private static void Close(string id, double expected, double actual) =>
        Assert.True(Math.Abs(actual - expected) <= 1e-9 * Math.Max(Math.Abs(expected), 1e-3 * (Math.Abs(expected) < 1e-15 ? 1.0 : 0.0)), $"{id}: {actual:R}, expected {expected:R}");

    private static string[] Row(string id) => RepositoryData.Rows("published/distributions.csv").Single(r => r[0] == id);

    private static Dictionary<string, (double[] Arguments, double[] Values)> Read(string id) =>
        Entries().Matches(Row(id)[3]).DistinctBy(m => m.Groups["name"].Value).ToDictionary(m => m.Groups["name"].Value, m => (Numbers(m.Groups["arguments"].Value), Numbers(m.Groups["values"].Value)));

    private static double[] Numbers(string s) => [.. Number().Matches(s).Select(m => double.Parse(m.Value, CultureInfo.InvariantCulture))];

    [GeneratedRegex(@"(?<name>\w+)(\((?<arguments>[^)]*)\))?=(?<values>\[[^\]]*\]|[^;,]+)")]
    private static partial Regex Entries();

    [GeneratedRegex(@"-?\d+(\.\d+)?([eE][-+]?\d+)?")]
    private static partial Regex Number();
}
