namespace CureSim.Core.Statistics;

/// <summary>What sampling from a shifted normal law promises for a tail probability.</summary>
/// <param name="Probability">P(Z &gt; c).</param>
/// <param name="SampleVariance">Variance of one weighted sample.</param>
/// <param name="Variation">Its standard deviation over the probability.</param>
/// <param name="PlainVariation">The same for unweighted sampling, √((1 − p)/p).</param>
/// <param name="Gain">Variance of unweighted over that of weighted sampling.</param>
public sealed record ShiftedNormalGain(double Probability, double SampleVariance, double Variation, double PlainVariation, double Gain);

/// <summary>A mean of weighted draws.</summary>
/// <param name="Value">Mean of weight × outcome with its standard error; withheld when no draw counted.</param>
/// <param name="EffectiveCount">(Σv)²/Σv² over the draws that counted: how many equally weighted ones they are worth.</param>
/// <param name="LargestShare">Largest weighted outcome over their sum; near 1 the value rests on one draw.</param>
public sealed record WeightedMean(Estimate Value, double EffectiveCount, double LargestShare);

/// <summary>Tail probabilities by sampling where it matters and weighting back.</summary>
/// <remarks>
/// Proposal N(θ, 1), weight exp(θ²/2 − θx): second moment of one sample e^{θ²} Φ(−(c + θ)).
/// Source: J. M. Hammersley and D. C. Handscomb, Monte Carlo Methods (1964), section 5.4; A. B. Owen, Monte Carlo Theory, Methods and Examples (2013), chapter 9.
/// Checked against: rows TAIL-IS-*.
/// </remarks>
public static class ImportanceSampling
{
    /// <summary>Exact figures for P(Z &gt; threshold) sampled from N(shift, 1).</summary>
    public static ShiftedNormalGain ShiftedNormal(double threshold, double shift)
    {
        if (!(threshold + shift >= 0.0) || !double.IsFinite(threshold + shift))
        {
            throw new ArgumentOutOfRangeException(nameof(shift), shift, "The shift must not point away from the threshold.");
        }

        double p = NormalLaw.Survival(threshold);
        double sum = threshold + shift;
        double second = Math.Exp((shift * shift) - (0.5 * sum * sum)) * NormalLaw.ScaledTail(sum);
        double variance = second - (p * p);
        double plain = p * NormalLaw.Cdf(threshold);
        return new ShiftedNormalGain(p, variance, Math.Sqrt(variance) / p, Math.Sqrt(plain) / p, plain / variance);
    }

    /// <summary>The logarithm of the weight of a draw x from N(shift, 1) for a standard normal quantity.</summary>
    public static double LogWeight(double x, double shift) => shift * ((0.5 * shift) - x);

    /// <summary>Mean of weighted outcomes over all draws, those that count zero included.</summary>
    public static WeightedMean Mean(ReadOnlySpan<double> weightedOutcomes)
    {
        double sum = 0.0;
        double squares = 0.0;
        double largest = 0.0;
        foreach (double v in weightedOutcomes)
        {
            if (!(v >= 0.0) || double.IsInfinity(v))
            {
                throw new ArgumentOutOfRangeException(nameof(weightedOutcomes), v, "Weighted outcomes are finite and not negative.");
            }

            sum += v;
            squares += v * v;
            largest = Math.Max(largest, v);
        }

        double n = weightedOutcomes.Length;
        if (sum == 0.0 || weightedOutcomes.Length < 2)
        {
            return new WeightedMean(Estimate.Withhold("no draw reached the tail", weightedOutcomes.Length), 0.0, 0.0);
        }

        double mean = sum / n;
        double variance = Math.Max(0.0, squares - (n * mean * mean)) / (n - 1.0);
        return new WeightedMean(
            Estimate.Of(mean, Math.Sqrt(variance / n), weightedOutcomes.Length), sum * sum / squares, largest / sum);
    }
}
