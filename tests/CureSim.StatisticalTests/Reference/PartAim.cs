using CureSim.Core.Distributions;
using CureSim.Core.Numerics;

namespace CureSim.StatisticalTests.Reference;

/// <summary>How aim deviations of parts are drawn.</summary>
internal static class PartAim
{
    private static readonly double[] Probes = [1e-9, 1e-4, 0.2, 0.5, 0.7, 0.999];

    /// <summary>Normal about 0: drawn as radius and direction; anything else axis by axis.</summary>
    /// <remarks>Told by its quantiles, not by its type; 10⁻⁹ is far above rounding and far below any other law's difference.</remarks>
    public static bool IsNormalAboutZero(IDistribution distribution) =>
        distribution.Mean == 0
        && distribution.StandardDeviation > 0
        && Probes.All(p => Math.Abs((distribution.Quantile(p) / distribution.StandardDeviation) - BlockMath.NormalQuantile(p)) < 1e-9);
}
