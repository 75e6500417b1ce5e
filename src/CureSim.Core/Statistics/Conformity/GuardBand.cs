namespace CureSim.Core.Statistics;

/// <summary>Limits moved inwards so that a reading within them keeps the risk of a false acceptance under a stated value.</summary>
/// <param name="Width">Guard band w, in the unit of the limits.</param>
/// <param name="Limits">Acceptance limits; null when withheld.</param>
/// <param name="Withheld">Why there are no acceptance limits; null when there are.</param>
/// <remarks>
/// w = r·U with an expanded uncertainty (ISO 14253-1; r = 1 in its earlier editions, recalled from memory), or w = z·u so that the conformance probability
/// at the acceptance limit is Φ(z). Between two limits close to each other both tails count: the acceptance limit y solves p_c(y) = p.
/// Source: JCGM 106:2012, clause 8; ISO 14253-1. Checked against: rows CON-Z, CON-2S-* inverted.
/// </remarks>
public sealed record GuardBand(double Width, LimitPair? Limits, string? Withheld = null)
{
    /// <summary>A band of a multiple of the expanded uncertainty.</summary>
    public static GuardBand FromExpanded(double expandedUncertainty, LimitPair limits, double multiple = 1.0)
    {
        if (!(expandedUncertainty >= 0.0) || !(multiple >= 0.0))
        {
            throw new ArgumentOutOfRangeException(nameof(expandedUncertainty), expandedUncertainty, "Uncertainty and multiple are zero or above.");
        }

        return Shrink(limits, multiple * expandedUncertainty);
    }

    /// <summary>The band at whose inner edge the conformance probability is <paramref name="conformance"/> (above ½).</summary>
    public static GuardBand ForConformance(double uncertainty, LimitPair limits, double conformance)
    {
        if (!(uncertainty > 0.0))
        {
            throw new ArgumentOutOfRangeException(nameof(uncertainty), uncertainty, "A standard uncertainty above zero is needed.");
        }

        if (!(conformance is > 0.5 and < 1.0))
        {
            throw new ArgumentOutOfRangeException(nameof(conformance), conformance, "A conformance probability above ½ and below 1 is needed.");
        }

        if (limits.Lower is not double lower || limits.Upper is not double upper || limits.Fault is not null)
        {
            return Shrink(limits, uncertainty * NormalLaw.Quantile(conformance));
        }

        double middle = 0.5 * (lower + upper);
        double Lack(double y) => ConformanceProbability.Outside(y, uncertainty, limits) - (1.0 - conformance);
        return Lack(middle) > 0.0
            ? new GuardBand(0.5 * (upper - lower), null, "the uncertainty is too large: not even a reading in the middle reaches the conformance probability")
            : Shrink(limits, upper - MonotoneRoot.Find(Lack, middle, upper));
    }

    private static GuardBand Shrink(LimitPair limits, double width)
    {
        var inner = new LimitPair(limits.Lower + width, limits.Upper - width, limits.Target);
        string? fault = limits.Fault ?? (inner.Fault is null ? null : "the guard bands meet: nothing would be accepted");
        return new GuardBand(width, fault is null ? inner : null, fault);
    }
}
