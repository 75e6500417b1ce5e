namespace CureSim.Core.Statistics;

/// <summary>Lower tolerance bound of one group of values whose scatter is pooled over several groups.</summary>
public static class GroupTolerance
{
    /// <summary>mean − k·s, k = t′(C; ν, z_R·√n)/√n with the pooled s and its degrees of freedom ν (ISO 16269-6, known as the factor for pooled groups).</summary>
    public static double Lower(double mean, int count, double pooledDeviation, int degrees, double confidence, double reliability) =>
        mean - (pooledDeviation * NoncentralTLaw.Quantile(confidence, degrees, NormalLaw.Quantile(reliability) * Math.Sqrt(count)) / Math.Sqrt(count));
}
