namespace CureSim.Core.Statistics;

/// <summary>Intervals of the mean and of the standard deviation of a normal output from n independent values.</summary>
/// <remarks>
/// Mean: x̄ ± t_{1−α/2,n−1}·s/√n. Standard deviation: s√((n−1)/χ²_{1−α/2,n−1}) … s√((n−1)/χ²_{α/2,n−1}).
/// Source: NIST/SEMATECH e-Handbook 1.3.5.2 (mean) and 1.3.5.8 (standard deviation). Checked against: R t.test and qchisq (tests/data/reference/capability-sample.csv).
/// </remarks>
public static class MeanInterval
{
    /// <summary>Two-sided interval of the mean; withheld for fewer than two values.</summary>
    public static ConfidenceInterval Mean(SampleMoments moments, double confidence = 0.95)
    {
        ArgumentNullException.ThrowIfNull(moments);
        ConfidenceInterval.Guard(confidence);
        if (moments.StandardDeviation is not { } s)
        {
            return ConfidenceInterval.Withhold("fewer than two values show no spread", confidence, moments.Count, moments.Count == 0 ? null : moments.Mean);
        }

        double half = StudentLaw.Quantile(0.5 + (0.5 * confidence), moments.Count - 1) * s / Math.Sqrt(moments.Count);
        return new(moments.Mean, moments.Mean - half, moments.Mean + half, confidence, moments.Count);
    }

    /// <summary>Two-sided interval of the standard deviation; withheld for fewer than two values.</summary>
    public static ConfidenceInterval StandardDeviation(SampleMoments moments, double confidence = 0.95)
    {
        ArgumentNullException.ThrowIfNull(moments);
        ConfidenceInterval.Guard(confidence);
        if (moments.StandardDeviation is not { } s)
        {
            return ConfidenceInterval.Withhold("fewer than two values show no spread", confidence, moments.Count);
        }

        double degrees = moments.Count - 1.0, tail = 0.5 * (1.0 - confidence);
        return new(s, s * Math.Sqrt(degrees / ChiSquareLaw.UpperQuantile(tail, degrees)), s * Math.Sqrt(degrees / ChiSquareLaw.Quantile(tail, degrees)), confidence, moments.Count);
    }
}
