using CureSim.Core.Statistics;

namespace CureSim.Studies.Capability;

/// <summary>A statistical tolerance interval: with the confidence it holds at least the reliability's proportion of the output.</summary>
/// <param name="Method">How it was made.</param>
/// <param name="Factor">k of mean ± k·s; null for order statistics.</param>
/// <param name="Order">m: the m-th value from the end(s) is the bound; null for factors.</param>
/// <param name="Lower">Lower bound; null when open below or withheld.</param>
/// <param name="Upper">Upper bound; null when open above or withheld.</param>
/// <param name="Withheld">Why there is none; null when there is.</param>
public sealed record ToleranceInterval(ToleranceMethod Method, double? Factor, int? Order, double? Lower, double? Upper, string? Withheld = null)
{
    /// <summary>True when the interval lies within the limits, so that the proportion conforms with the confidence; null when withheld.</summary>
    public bool? LiesWithin(LimitPair limits) => Withheld is not null ? null
        : (limits.Lower is not { } l || Lower >= l) && (limits.Upper is not { } u || Upper <= u);
}

/// <summary>How a statistical tolerance interval was made.</summary>
public enum ToleranceMethod
{
    /// <summary>mean ± k·s with the exact normal factor.</summary>
    Normal,

    /// <summary>Order statistics, any continuous shape.</summary>
    Wilks,
}

/// <summary>The normal and the distribution-free interval, two-sided with two limits, one-sided with one.</summary>
/// <param name="Normal">Exact normal factor.</param>
/// <param name="Howe">Howe's approximate two-sided factor, beside it; null when one-sided.</param>
/// <param name="Wilks">Order statistics.</param>
/// <param name="WilksLeast">Values that order statistics need.</param>
/// <remarks>Source: ISO 16269-6; S. S. Wilks (1941); W. G. Howe (1969).</remarks>
public sealed record ToleranceFinding(ToleranceInterval Normal, double? Howe, ToleranceInterval Wilks, long WilksLeast)
{
    /// <summary>From values sorted upwards.</summary>
    public static ToleranceFinding Of(ReadOnlySpan<double> sorted, SampleMoments moments, CapabilitySettings settings)
    {
        int n = sorted.Length;
        double r = settings.Reliability, c = settings.Confidence, s = moments.StandardDeviation!.Value;
        bool two = settings.Limits is { Lower: not null, Upper: not null };
        double k = two ? NormalToleranceFactor.TwoSided(n, r, c) : NormalToleranceFactor.OneSided(n, r, c);
        double? Bound(double? limit, double value) => limit is null ? null : value;
        var normal = new ToleranceInterval(ToleranceMethod.Normal, k, null, Bound(settings.Limits.Lower, moments.Mean - (k * s)), Bound(settings.Limits.Upper, moments.Mean + (k * s)));
        long least = two ? SamplePlan.WilksTwoSided(1, c, r) : SamplePlan.WilksOneSided(1, c, r);
        if (n < least)
        {
            string why = FormattableString.Invariant($"{n} values are too few at this confidence and reliability; {least} are enough");
            return new(normal, two ? NormalToleranceFactor.Howe(n, r, c) : null, new(ToleranceMethod.Wilks, null, null, null, null, why), least);
        }

        int order = Order(n, two, c, r);
        return new(
            normal, two ? NormalToleranceFactor.Howe(n, r, c) : null,
            new(ToleranceMethod.Wilks, null, order, Bound(settings.Limits.Lower, sorted[order - 1]), Bound(settings.Limits.Upper, sorted[n - order])), least);
    }

    // The largest order that n values allow: the confidence falls as the order rises.
    private static int Order(int n, bool two, double confidence, double reliability)
    {
        bool Enough(int m) => SamplePlan.Confidence(n, two ? (2 * m) - 1 : m - 1, reliability) >= confidence * (1.0 - 1e-12);
        int low = 1, high = two ? n / 2 : n;
        while (low < high)
        {
            int middle = (low + high + 1) / 2;
            (low, high) = Enough(middle) ? (middle, high) : (low, middle - 1);
        }

        return low;
    }
}
