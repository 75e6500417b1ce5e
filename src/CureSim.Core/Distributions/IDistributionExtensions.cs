using CureSim.Core.Numerics;

namespace CureSim.Core.Distributions;

/// <summary>Quantiles addressed by a normal score, and exact quantiles.</summary>
public static class IDistributionExtensions
{
    /// <summary>
    /// The value at normal score <paramref name="z"/>: Quantile(Φ(z)). Normal and lognormal (also scaled) take z as it is, so that the upper tail loses nothing;
    /// others hold Φ(z) below 1.
    /// </summary>
    public static double QuantileOfScore(this IDistribution distribution, double z) => distribution switch
    {
        NormalDistribution d => d.AtScore(z),
        LognormalDistribution d => d.AtScore(z),
        ScaledDistribution d => BlockMath.Affine(d.Inner.QuantileOfScore(d.Factor < 0.0 ? -z : z), d.Factor, d.Offset),
        _ => distribution.Quantile(BelowOne.Hold(BlockMath.NormalCdf(z))),
    };

    /// <summary>Block form of <see cref="QuantileOfScore"/>, bit-equal to it element by element. The spans may be the same memory.</summary>
    public static void QuantilesOfScores(this IDistribution distribution, ReadOnlySpan<double> z, Span<double> x)
    {
        switch (distribution)
        {
            case NormalDistribution d:
                BlockMath.Affine(z, d.StandardDeviation, d.Mean, x);
                break;
            case LognormalDistribution d:
                d.AtScores(z, x);
                break;
            case ScaledDistribution d:
                if (d.Factor < 0.0)
                {
                    BlockMath.Affine(z, -1.0, 0.0, x);
                    z = x;
                }

                d.Inner.QuantilesOfScores(z, x);
                BlockMath.Affine(x, d.Factor, d.Offset, x);
                break;
            default:
                BlockMath.NormalCdf(z, x);
                BlockLoop.Map(default(BelowOne), x, x);
                distribution.Quantiles(x, x);
                break;
        }
    }

    /// <summary>The quantile without a table: <see cref="ITabulatedDistribution.QuantileExact"/> where there is one, else the ordinary quantile.</summary>
    public static double QuantileExact(this IDistribution distribution, double p) =>
        distribution is ITabulatedDistribution tabulated ? tabulated.QuantileExact(p, 1.0 - p) : distribution.Quantile(p);
}
