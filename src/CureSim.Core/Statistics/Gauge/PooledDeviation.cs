namespace CureSim.Core.Statistics;

/// <summary>One standard deviation from several, each with its own degrees of freedom.</summary>
/// <remarks>
/// s = √(Σν_i s_i²/Σν_i) with ν = Σν_i; SE = s/√(2ν); 95 % interval s√(ν/χ²) (exact for normal readings).
/// Source: NIST/SEMATECH e-Handbook 2.4.4.1 … 2.4.4.3. Checked against: rows GRR-NIST-*.
/// </remarks>
public static class PooledDeviation
{
    /// <summary>Pools standard deviations (unit of the readings); the estimate's count is ν.</summary>
    public static Estimate Of(ReadOnlySpan<double> deviations, ReadOnlySpan<int> degrees)
    {
        if (deviations.Length != degrees.Length)
        {
            throw new ArgumentException("There must be degrees of freedom for each standard deviation.", nameof(degrees));
        }

        double squares = 0.0;
        long total = 0;
        for (int i = 0; i < deviations.Length; i++)
        {
            if (!(deviations[i] >= 0.0) || double.IsInfinity(deviations[i]) || degrees[i] < 0)
            {
                throw new ArgumentOutOfRangeException(nameof(deviations), deviations[i], "Standard deviations and degrees of freedom are zero or above.");
            }

            squares += degrees[i] * deviations[i] * deviations[i];
            total += degrees[i];
        }

        if (total == 0)
        {
            return Estimate.Withhold("no degrees of freedom", 0);
        }

        double s = Math.Sqrt(squares / total);
        return Estimate.Bounded(
            s,
            s / Math.Sqrt(2.0 * total),
            Math.Sqrt(squares / ChiSquareLaw.UpperQuantile(0.025, total)),
            Math.Sqrt(squares / ChiSquareLaw.Quantile(0.025, total)),
            total);
    }
}
