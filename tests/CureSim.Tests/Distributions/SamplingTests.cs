using CureSim.Core.Distributions;
using CureSim.Core.Random;
using CureSim.Tests.Numerics;

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

    /// <summary>Row RNG-KOL: limiting quantiles (scipy.special.kolmogi, recomputed) put back into our tail; the critical value above belongs to 10⁻⁶.</summary>
    [Fact]
    public void Kolmogorov_tail_has_the_tabulated_quantiles()
    {
        string expected = RepositoryData.Rows("published/rng.csv").Single(r => r[0] == "RNG-KOL")[3];
        double[] quantiles = [.. expected.Trim('[', ']').Split(';').Select(s => double.Parse(s, System.Globalization.CultureInfo.InvariantCulture))];
        double[] tails = [0.05, 0.01, 0.001];
        for (int i = 0; i < 3; i++)
        {
            // The row holds to 10⁻⁹ in the quantile; the tail falls there by 4x times itself for each unit.
            Assert.Equal(tails[i], KolmogorovTail(quantiles[i]), 1e-9 * 4 * quantiles[i] * tails[i]);
        }

        Assert.InRange(KolmogorovTail(Critical), 1.0e-6, 1.1e-6);
    }

    /// <summary>Row RNG-TST-N (normal theory, recomputed): each moment within four of its standard errors.</summary>
    [Fact]
    public void Million_normals_have_the_moments_of_the_normal()
    {
        const int Count = 1_000_000;
        double[] z = new double[Count];
        UniformBlock.Fill(20240229, 0, 0, StreamKey.Of(DrawDomain.Cell, "test.normals"), 0, z);
        new NormalDistribution(0, 1).Quantiles(z, z);
        double mean = z.Average(), m2 = 0, m3 = 0, m4 = 0;
        int beyondThree = 0, aboveFour = 0;
        foreach (double value in z)
        {
            double e = value - mean;
            m2 += e * e / Count;
            m3 += e * e * e / Count;
            m4 += e * e * e * e / Count;
            beyondThree += Math.Abs(value) > 3 ? 1 : 0;
            aboveFour += value > 4 ? 1 : 0;
        }

        Assert.Equal(0.0, mean, 4 * 1e-3);
        Assert.Equal(1.0, m2, 4 * 0.0014142136);
        Assert.Equal(0.0, m3 / Math.Pow(m2, 1.5), 4 * 0.0024494897);
        Assert.Equal(0.0, (m4 / (m2 * m2)) - 3.0, 4 * 0.0048989795);
        Assert.Equal(2699.8, beyondThree, 4 * 51.9);
        Assert.Equal(31.67, aboveFour, 4 * 5.63);
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
