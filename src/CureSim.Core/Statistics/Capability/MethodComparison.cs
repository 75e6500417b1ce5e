namespace CureSim.Core.Statistics;

/// <summary>Moment and percentile indices side by side: how far apart, and which to use.</summary>
/// <param name="LargestRelativeDifference">Largest |difference| over the larger of the two, over the indices that both have; null when nothing can be compared.</param>
/// <param name="Normal">True when they agree within <see cref="PercentileCapability.LargestAgreement"/>; null when nothing can be compared.</param>
/// <param name="Statement">One sentence for the report.</param>
public sealed record MethodComparison(double? LargestRelativeDifference, bool? Normal, string Statement)
{
    internal static MethodComparison From(double? difference, string? withheld)
    {
        if (difference is not double d)
        {
            return new MethodComparison(null, null, "The two methods cannot be compared: " + (withheld ?? "no index is common to both") + ".");
        }

        bool agree = d <= PercentileCapability.LargestAgreement;
        string apart = (100.0 * d).ToString("0", System.Globalization.CultureInfo.InvariantCulture);
        return new MethodComparison(d, agree, agree
            ? $"Moment and percentile indices agree within {apart} %; either may be used."
            : $"Moment and percentile indices differ by up to {apart} %: the output is not normal; use the percentile indices.");
    }
}
