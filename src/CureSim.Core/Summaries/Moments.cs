namespace CureSim.Core.Summaries;

/// <summary>Count, mean and central sums M2 … M4 of a sample; enough for standard deviation, skewness and kurtosis.</summary>
/// <remarks>
/// Counts are doubles, so that products of counts cannot overflow beyond 2²¹ values. Merge: Chan, Golub and LeVeque (1979) for M2,
/// extended to M3 and M4 by Pébay, Sandia report SAND2008-6212 (2008), eq. 2.1.
/// </remarks>
public struct Moments : IMergeable<Moments>
{
    /// <summary>Number of values.</summary>
    public double Count;

    /// <summary>Mean.</summary>
    public double Mean;

    /// <summary>Σ(x − mean)².</summary>
    public double M2;

    /// <summary>Σ(x − mean)³.</summary>
    public double M3;

    /// <summary>Σ(x − mean)⁴.</summary>
    public double M4;

    /// <summary>Sample variance (n − 1); 0 below two values.</summary>
    public readonly double Variance => Count > 1.0 ? M2 / (Count - 1.0) : 0.0;

    /// <summary>Sample standard deviation.</summary>
    public readonly double StandardDeviation => Math.Sqrt(Variance);

    /// <summary>Skewness, population form.</summary>
    public readonly double Skewness => M2 > 0.0 ? Math.Sqrt(Count) * M3 / (M2 * Math.Sqrt(M2)) : 0.0;

    /// <summary>Excess kurtosis, population form.</summary>
    public readonly double ExcessKurtosis => M2 > 0.0 ? (Count * M4 / (M2 * M2)) - 3.0 : 0.0;

    /// <summary>From power sums Σ(x − centre)^j; the centre should be near the mean.</summary>
    public static Moments FromPowerSums(double centre, double n, double s1, double s2, double s3, double s4)
    {
        if (n <= 0.0)
        {
            return default;
        }

        double d = s1 / n;
        return new Moments
        {
            Count = n,
            Mean = centre + d,
            M2 = Math.Max(0.0, s2 - (s1 * d)),
            M3 = s3 - (3.0 * d * s2) + (2.0 * d * d * s1),
            M4 = Math.Max(0.0, s4 - (4.0 * d * s3) + (6.0 * d * d * s2) - (3.0 * d * d * d * s1)),
        };
    }

    /// <inheritdoc/>
    public void Merge(Moments later)
    {
        if (later.Count == 0.0)
        {
            return;
        }

        if (Count == 0.0)
        {
            this = later;
            return;
        }

        double na = Count, nb = later.Count, n = na + nb;
        double delta = later.Mean - Mean, dn = delta / n;
        double cross = delta * dn * na * nb;
        double m4 = M4 + later.M4 + (cross * dn * dn * ((na * na) - (na * nb) + (nb * nb)))
            + (6.0 * dn * dn * ((na * na * later.M2) + (nb * nb * M2))) + (4.0 * dn * ((na * later.M3) - (nb * M3)));
        double m3 = M3 + later.M3 + (cross * dn * (na - nb)) + (3.0 * dn * ((na * later.M2) - (nb * M2)));
        Mean += dn * nb;
        M2 += later.M2 + cross;
        M3 = m3;
        M4 = m4;
        Count = n;
    }
}
