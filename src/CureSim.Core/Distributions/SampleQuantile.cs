namespace CureSim.Core.Distributions;

/// <summary>Where the quantile p of n ordered values stands between them (numbering of Hyndman and Fan).</summary>
/// <remarks>R. J. Hyndman, Y. Fan, "Sample quantiles in statistical packages", The American Statistician 50 (1996) 361–365.</remarks>
public enum SampleQuantileType
{
    /// <summary>Position n·p + ½ (Hazen).</summary>
    Hazen = 5,

    /// <summary>Position (n + 1)·p (Weibull).</summary>
    Weibull = 6,

    /// <summary>Position (n − 1)·p + 1.</summary>
    Linear = 7,
}

/// <summary>Quantiles of a sample.</summary>
public static class SampleQuantile
{
    /// <summary>The quantile <paramref name="p"/> of values sorted from small to large, straight between neighbours, held at the ends.</summary>
    public static double Of(ReadOnlySpan<double> sorted, double p, SampleQuantileType type)
    {
        int n = sorted.Length;
        double position = type switch
        {
            SampleQuantileType.Hazen => Math.FusedMultiplyAdd(n, p, 0.5),
            SampleQuantileType.Weibull => (n + 1) * p,
            _ => Math.FusedMultiplyAdd(n - 1, p, 1.0),
        };
        double whole = Math.Clamp(Math.Floor(position), 1.0, n);
        int j = (int)whole;
        double part = Math.Clamp(position - whole, 0.0, 1.0);
        return j == n ? sorted[n - 1] : Math.FusedMultiplyAdd(part, sorted[j] - sorted[j - 1], sorted[j - 1]);
    }
}
