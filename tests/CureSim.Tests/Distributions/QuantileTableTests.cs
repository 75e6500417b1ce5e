using CureSim.Core.Distributions;
using CureSim.Core.Numerics;

namespace CureSim.Tests.Distributions;

/// <summary>The tabulated quantiles of gamma and beta stay within the documented 10⁻⁶ standard deviations of the exact ones.</summary>
public class QuantileTableTests
{
    public static TheoryData<string, double, double> Shapes => new()
    {
        { "gamma", 0.05, 1 }, { "gamma", 0.1, 2 }, { "gamma", 0.3, 1 }, { "gamma", 0.5, 1 }, { "gamma", 1, 1 }, { "gamma", 2.5, 3 }, { "gamma", 10, 1 },
        { "gamma", 100, 0.1 }, { "gamma", 1e4, 1 },
        { "beta", 2, 5 }, { "beta", 0.5, 0.5 }, { "beta", 0.1, 0.1 }, { "beta", 0.05, 0.05 }, { "beta", 1, 1 }, { "beta", 5, 1 }, { "beta", 0.2, 3 },
        { "beta", 100, 300 }, { "beta", 5000, 2 },
    };

    [Theory]
    [MemberData(nameof(Shapes))]
    public void Error_is_bounded(string family, double first, double second)
    {
        ITabulatedDistribution d = family == "gamma" ? new GammaDistribution(first, second) : new BetaDistribution(first, second);

        // Scores that fall on no node or midpoint, over the whole reach of a 53-bit uniform (−8.29 to 8.21).
        const int N = 3001;
        for (int i = 0; i < N; i++)
        {
            double z = -8.29 + (16.5 * (i + 0.137) / N);
            double p = BlockMath.NormalCdf(z), complement = BlockMath.NormalCdf(-z);

            // Near 1 the table sees p as rounded, so that the comparison must too.
            double seen = BlockMath.NormalQuantile(p);
            double exact = d.QuantileExact(BlockMath.NormalCdf(seen), BlockMath.NormalCdf(-seen));
            double error = Math.Abs(d.Quantile(p) - exact) / d.StandardDeviation;
            Assert.True(error <= 1e-6, $"{family}({first}, {second}) at z = {z:F4}: {error:G3} standard deviations");
            Assert.True(complement > 0.0);
        }
    }
}
