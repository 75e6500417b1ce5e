using CureSim.Checks.Comparing;
using CureSim.Core.Distributions;
using CureSim.Core.Numerics;
using CureSim.Core.Random;

namespace CureSim.Checks.Published;

/// <summary>A million normals by addressed uniforms and the quantile: moments and tails with their theoretical standard errors.</summary>
internal static class NormalSample
{
    private const int Count = 1_000_000;

    public static IEnumerable<SampledCheck> All()
    {
        yield return new("RNG-TST-N", "random numbers", "A million normals: mean, variance, skewness, excess kurtosis, tails", "moments of the normal law", 930,
            "a spread one per cent too wide", Figures) { ThroughEngine = false, Provenance = Provenances.Recomputed };
    }

    private static IEnumerable<SampledFigure> Figures(ulong seed)
    {
        double[] z = new double[Count];
        UniformBlock.Fill(seed, 0, 0, StreamKey.Of(DrawDomain.Reserved, "check.normals"), 0, z);
        new NormalDistribution(0, 1).Quantiles(z, z);
        double n = Count, mean = z.Average(), m2 = 0, m3 = 0, m4 = 0, three = 0;
        foreach (double x in z)
        {
            double d = x - mean;
            m2 += d * d / n;
            m3 += d * d * d / n;
            m4 += d * d * d * d / n;
            three += Math.Abs(x) > 3 ? 1 : 0;
        }

        // Standard errors of n normals: 1/√n, √(2/n), √(6/n), √(24/n). A third and a fourth moment of nothing are told in units of 1.
        return
        [
            new("mean", 0, mean, 1 / Math.Sqrt(n), null, 0, 1),
            new("variance", 1, m2, Math.Sqrt(2 / n), 1.01 * 1.01),
            new("skewness", 0, m3 / Math.Pow(m2, 1.5), Math.Sqrt(6 / n), null, 0, 1),
            new("excess kurtosis", 0, (m4 / (m2 * m2)) - 3, Math.Sqrt(24 / n), null, 0, 1),
            Sample.Share("P(|Z| > 3)", 2 * BlockMath.NormalCdf(-3), three, n, 2 * BlockMath.NormalCdf(-3 / 1.01)),
            Sample.Share("P(Z > 3.09)", 1e-3, z.Count(x => x > 3.0902323061678132), n),
        ];
    }
}
