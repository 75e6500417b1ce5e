namespace CureSim.Core.Statistics;

/// <summary>A figure with an interval of a stated confidence, one- or two-sided, or the reason why there is none.</summary>
/// <param name="Value">The figure; null when it is withheld or when only a bound can be stated.</param>
/// <param name="Lower">Lower limit; null when the interval is open below.</param>
/// <param name="Upper">Upper limit; null when the interval is open above.</param>
/// <param name="Confidence">Probability with which the method covers the true value, 0 … 1.</param>
/// <param name="Count">How many observations it rests on.</param>
/// <param name="Withheld">Why no interval is given; null when one is.</param>
public sealed record ConfidenceInterval(double? Value, double? Lower, double? Upper, double Confidence, long Count, string? Withheld = null)
{
    /// <summary>No interval, and why.</summary>
    public static ConfidenceInterval Withhold(string reason, double confidence, long count, double? value = null) =>
        new(value, null, null, confidence, count, reason);

    /// <summary>As an <see cref="Estimate"/>, which is always at 95 %.</summary>
    /// <exception cref="InvalidOperationException">The interval is not at 95 %.</exception>
    public Estimate ToEstimate()
    {
        if (Math.Abs(Confidence - 0.95) > 1e-12)
        {
            throw new InvalidOperationException("Only an interval of 95 % confidence is an estimate's interval.");
        }

        return Withheld is null && Value is double v
            ? Estimate.Bounded(v, null, Lower, Upper, Count)
            : Estimate.Withhold(Withheld ?? "only a bound can be stated", Count, Lower, Upper);
    }

    internal static void Guard(double confidence)
    {
        if (!(confidence > 0.0 && confidence < 1.0))
        {
            throw new ArgumentOutOfRangeException(nameof(confidence), confidence, "A confidence strictly between 0 and 1 is needed.");
        }
    }
}
