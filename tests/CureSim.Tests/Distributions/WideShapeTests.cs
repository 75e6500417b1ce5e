using CureSim.Core.Distributions;
using CureSim.Core.Numerics;

namespace CureSim.Tests.Distributions;

/// <summary>Quantiles found by search invert the probability over shapes of many decades and into both tails.</summary>
public class WideShapeTests
{
    private static readonly double[] Scores = [-8.4, -5, -2, -0.7, 0, 0.1, 1.5, 3, 7, 8.4];
    private static readonly double[] Decades = [0.01, 0.07, 0.4, 1, 2.5, 12, 90, 700, 8000];

    [Fact]
    public void Gamma() => All(Decades.Select(a => new GammaDistribution(a, 1)));

    [Fact]
    public void Beta() => All(Decades.SelectMany(a => Decades.Select(b => new BetaDistribution(a, b))));

    [Fact]
    public void Student_t() => All(Decades.Skip(2).Select(v => new StudentTDistribution(v)));

    [Fact]
    public void Inverse_Gaussian() => All(Decades.Select(l => new InverseGaussianDistribution(1, l)));

    private static void All(IEnumerable<IDistribution> distributions)
    {
        int checks = 0;
        foreach (var d in distributions)
        {
            foreach (double z in Scores)
            {
                double p = BlockMath.NormalCdf(z), complement = d is ITabulatedDistribution ? BlockMath.NormalCdf(-z) : 1.0 - p;
                double x = d is ITabulatedDistribution tabulated ? tabulated.QuantileExact(p, complement) : d.Quantile(p);
                if (x == 0.0 || x == 1.0 || complement == 0.0)
                {
                    continue; // nearer to the end of the support, or p nearer to 1, than a double can say
                }

                // 10⁻⁹ relative in the smaller tail, and what the rounding of x itself does to it.
                double tail = Math.Min(p, complement), rounding = d.Density(x) * Math.Abs(x) * 4e-15 / tail;
                double error = Math.Abs((z < 0.0 ? d.Cdf(x) : d.Survival(x)) / (z < 0.0 ? p : complement) - 1.0);
                Assert.True(error <= 1e-9 + rounding, $"{d.GetType().Name}, mean {d.Mean:G4}, sd {d.StandardDeviation:G4}, z = {z}: x = {x:R}, error {error:G3}");
                checks++;
            }
        }

        Assert.True(checks >= 50);
    }
}
