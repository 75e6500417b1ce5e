namespace CureSim.Core.Statistics;

/// <summary>Count, mean, standard deviation and shape of a sample.</summary>
/// <param name="Count">Number of values.</param>
/// <param name="Mean">Arithmetic mean, in the unit of the values; 0 for an empty sample.</param>
/// <param name="StandardDeviation">With n − 1; null for fewer than two values.</param>
/// <param name="Skewness">g₁ = m₃/m₂^1.5 (moments over n); null for fewer than three values or without spread.</param>
/// <param name="ExcessKurtosis">g₂ = m₄/m₂² − 3 (moments over n); null for fewer than four values or without spread.</param>
/// <remarks>
/// Two passes: the mean first, then powers of the differences, so large offsets do not cancel. All counts enter as doubles.
/// Source: D. N. Joanes and C. A. Gill, "Comparing measures of sample skewness and kurtosis", The Statistician 47 (1998) 183. Checked against: row DIS-EMP-SUM.
/// </remarks>
public sealed record SampleMoments(long Count, double Mean, double? StandardDeviation, double? Skewness, double? ExcessKurtosis)
{
    /// <summary>Moments of the values.</summary>
    /// <exception cref="ArgumentException">A value is not a finite number.</exception>
    public static SampleMoments Of(ReadOnlySpan<double> values)
    {
        double n = values.Length;
        if (values.IsEmpty)
        {
            return new SampleMoments(0, 0.0, null, null, null);
        }

        double sum = 0.0;
        foreach (double x in values)
        {
            sum += double.IsFinite(x) ? x : throw new ArgumentException("The sample holds a value that is not a finite number.", nameof(values));
        }

        double mean = sum / n;
        double rest = 0.0;
        double m2 = 0.0;
        double m3 = 0.0;
        double m4 = 0.0;
        foreach (double x in values)
        {
            double d = x - mean;
            rest += d;
            m2 += d * d;
            m3 += d * d * d;
            m4 += d * d * d * d;
        }

        // The mean's own rounding, put right (corrected two-pass algorithm).
        double correction = rest / n;
        m2 -= correction * rest;
        mean += correction;
        bool spread = m2 > 0.0;
        return new SampleMoments(
            values.Length,
            mean,
            values.Length > 1 ? Math.Sqrt(Math.Max(0.0, m2) / (n - 1.0)) : null,
            values.Length > 2 && spread ? m3 / n / Math.Pow(m2 / n, 1.5) : null,
            values.Length > 3 && spread ? (m4 * n / (m2 * m2)) - 3.0 : null);
    }
}
