using CureSim.Core.Distributions;
using CureSim.Core.Numerics;

namespace CureSim.Engine.State;

/// <summary>The value of a distribution at a normal score.</summary>
internal static class ScoreQuantile
{
    // The largest number below 1: beyond a score of about 8.2 the cdf is 1 in double precision, and a quantile of 1 may be infinite.
    private const double Top = 1.0 - 1.1102230246251565e-16;

    /// <summary>Quantile at Φ(score); exact for the normal distribution in both tails.</summary>
    public static double AtScore(this IDistribution distribution, double score) => distribution is NormalDistribution normal
        ? normal.Mean + (normal.StandardDeviation * score)
        : distribution.Quantile(Math.Min(Top, BlockMath.NormalCdf(score)));
}
