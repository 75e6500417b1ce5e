namespace CureSim.Core.Statistics;

/// <summary>A mean over independent batches or units, with the standard error that their scatter shows.</summary>
/// <remarks>
/// m = Σw x/Σw; SE² = B/(B−1) · Σ w²(x − m)²/(Σw)²; interval m ± t₀.₉₇₅,B−1 · SE.
/// With equal weights this is s/√B. With weights = denominators (parts of a batch, hours of a unit) it is the linearised error of the ratio
/// of two totals, so a fraction counted on batches of unequal size uses it too.
/// Source: W. G. Cochran, Sampling Techniques, 3rd ed. (1977), sections 2.6 and 6.5 (ratio estimate). Checked against: the t interval of equal
/// weights and SciPy (tests/data/reference/statistics-scipy.csv).
/// </remarks>
public static class BatchEstimate
{
    /// <summary>Weighted mean of batch values; withheld with fewer than two batches of weight above zero.</summary>
    /// <param name="values">One figure for each batch.</param>
    /// <param name="weights">One weight ≥ 0 for each batch; a batch of weight 0 is left out.</param>
    public static Estimate Of(ReadOnlySpan<double> values, ReadOnlySpan<double> weights)
    {
        if (values.Length != weights.Length)
        {
            throw new ArgumentException("There must be one weight for each batch.", nameof(weights));
        }

        double total = 0.0;
        double sum = 0.0;
        int batches = 0;
        for (int i = 0; i < values.Length; i++)
        {
            if (!(weights[i] >= 0.0) || double.IsInfinity(weights[i]))
            {
                throw new ArgumentOutOfRangeException(nameof(weights), weights[i], "A weight is zero or above.");
            }

            if (weights[i] > 0.0)
            {
                total += weights[i];
                sum += weights[i] * values[i];
                batches++;
            }
        }

        if (batches < 2)
        {
            return Estimate.Withhold("fewer than two batches: their scatter cannot be seen", batches);
        }

        double mean = sum / total;
        double squares = 0.0;
        for (int i = 0; i < values.Length; i++)
        {
            if (weights[i] > 0.0)
            {
                double d = weights[i] * (values[i] - mean);
                squares += d * d;
            }
        }

        double error = Math.Sqrt(squares * batches / (batches - 1.0)) / total;
        double half = Multiple(batches) * error;
        return Estimate.Bounded(mean, error, mean - half, mean + half, batches);
    }

    /// <summary>Standard errors in half a 95 % interval that rests on so many independent units: t₀.₉₇₅ with one degree of freedom fewer.</summary>
    public static double Multiple(int units) => StudentLaw.Quantile(0.975, units - 1);

    /// <summary>Mean of batch values of equal weight.</summary>
    public static Estimate Of(ReadOnlySpan<double> values)
    {
        double[] ones = new double[values.Length];
        Array.Fill(ones, 1.0);
        return Of(values, ones);
    }
}
