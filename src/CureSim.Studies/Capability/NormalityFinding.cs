using CureSim.Core.Statistics;

namespace CureSim.Studies.Capability;

/// <summary>Whether the sample contradicts a normal output.</summary>
/// <param name="AndersonDarling">Decides.</param>
/// <param name="ShapiroWilk">Stands beside.</param>
public sealed record NormalityFinding(NormalityTest AndersonDarling, NormalityTest ShapiroWilk)
{
    /// <summary>p of the Anderson–Darling test below which normality is refused. Common practice, no source.</summary>
    public const double Significance = 0.05;

    /// <summary>True when normality is refused, false when it is not; null when the sample is too small to be tested.</summary>
    public bool? Refused => AndersonDarling.PValue is { } p ? p < Significance : null;

    /// <summary>Tests a sample.</summary>
    public static NormalityFinding Of(ReadOnlySpan<double> values) => new(Core.Statistics.AndersonDarling.Normal(values), Core.Statistics.ShapiroWilk.Normal(values));
}
