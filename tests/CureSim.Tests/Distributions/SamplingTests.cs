using CureSim.Core.Distributions;
using CureSim.Core.Random;

namespace CureSim.Tests.Distributions;

/// <summary>Values drawn through addressed uniforms follow their distribution. Seeds are fixed: a test passes always or never.</summary>
public class SamplingTests
{
    private const int N = 100_000;

    /// <summary>Kolmogorov's limit: P(√n·D &gt; 2.69) = 1.04·10⁻⁶, so that a right distribution fails once in a million seeds.</summary>
    private const double Critical = 2.69;

    public static TheoryData<string> Names => Examples.Names;

    [Theory]
    [MemberData(nameof(Names))]
    public void Draws_follow_the_distribution(string name)
    {
        var d = Examples.All[name];
        double distance = Distance(Draws(d, name), d);
        Assert.True(distance <= Critical / Math.Sqrt(N), $"{name}: D√n = {distance * Math.Sqrt(N):F3}");
    }

    /// <summary>A normal whose mean is a twentieth of a standard deviation off: D is near 0.02, the bound 0.0085.</summary>
    [Fact]
    public void A_wrong_distribution_is_caught()
    {
        double distance = Distance(Draws(new NormalDistribution(10, 2), "planted"), new NormalDistribution(10.1, 2));
        Assert.True(distance > Critical / Math.Sqrt(N), $"D√n = {distance * Math.Sqrt(N):F3}");
    }

    /// <summary>Limiting quantiles of Kolmogorov's law (scipy.special.kolmogi, recomputed) put back into our tail; the critical value above belongs to 10⁻⁶.</summary>
    [Fact]
    public void Kolmogorov_tail_has_the_tabulated_quantiles()
    {
        double[] quantiles = [1.358098639, 1.627623612, 1.949474604];
        double[] tails = [0.05, 0.01, 0.001];
        for (int i = 0; i < 3; i++)
        {
            // The figures hold to 10⁻⁹ in the quantile; the tail falls there by 4x times itself for each unit.
            Assert.Equal(tails[i], KolmogorovTail(quantiles[i]), 1e-9 * 4 * quantiles[i] * tails[i]);
        }

        Assert.InRange(KolmogorovTail(Critical), 1.0e-6, 1.1e-6);
    }

    private static double[] Draws(IDistribution d, string name)
    {
        double[] x = new double[N];
        UniformBlock.Fill(4711, 0, 0, StreamKey.Of(DrawDomain.Cell, name), 0, x);
        d.Quantiles(x, x);
        Array.Sort(x);
        return x;
    }

    /// <summary>Greatest distance between the share of sorted values up to x and the probability, on both sides of each step.</summary>
    private static double Distance(double[] sorted, IDistribution d)
    {
        double greatest = 0.0;
        for (int i = 0; i < sorted.Length;)
        {
            int next = i;
            while (next < sorted.Length && sorted[next] == sorted[i])
            {
                next++;
            }

            double at = d.Cdf(sorted[i]), below = next - i > 1 ? d.Cdf(Math.BitDecrement(sorted[i])) : at;
            greatest = Math.Max(greatest, Math.Max(Math.Abs(at - ((double)next / sorted.Length)), Math.Abs(below - ((double)i / sorted.Length))));
            i = next;
        }

        return greatest;
    }

    /// <summary>2·Σ (−1)^(k−1)·e^(−2k²x²).</summary>
    private static double KolmogorovTail(double x)
    {
        double sum = 0.0;
        for (int k = 10; k >= 1; k--)
        {
            sum += (k % 2 == 1 ? 2.0 : -2.0) * Math.Exp(-2.0 * k * k * x * x);
        }

        return sum;
    }
}
