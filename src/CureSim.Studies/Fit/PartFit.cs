using System.Collections.Immutable;
using CureSim.Core.Statistics;

namespace CureSim.Studies.Fit;

/// <summary>A distribution fitted to measured parts.</summary>
/// <param name="Values">The values, in the order of the file.</param>
/// <param name="Laws">Candidates, best AICc first.</param>
/// <param name="Screening">Signs of rounding and copying.</param>
/// <param name="Withheld">Why nothing was fitted; null when it was.</param>
public sealed record PartFit(ImmutableArray<double> Values, ImmutableArray<SampleLaw> Laws, SampleScreening Screening, string? Withheld)
{
    /// <summary>p of the Anderson–Darling test below which a law is refused: common practice, no source.</summary>
    public const double Refusal = 0.05;

    /// <summary>The law that is taken: the best by AICc unless its Anderson–Darling test refuses it; null: the values themselves.</summary>
    public SampleLaw? Taken => Laws.IsEmpty || Laws[0].PValue < Refusal ? null : Laws[0];

    /// <summary>Laws beside the one taken whose AICc is within <see cref="LogFit.Indistinguishable"/> and that are not refused.</summary>
    public IEnumerable<SampleLaw> AlsoPossible => Taken is not { } taken ? [] : Laws.Skip(1).Where(l => l.Criterion - taken.Criterion <= LogFit.Indistinguishable && l.PValue >= Refusal);

    /// <summary>Fits the candidates.</summary>
    public static PartFit Of(ImmutableArray<double> values)
    {
        var screening = SampleScreening.Of(values.AsSpan());
        return values.Length < 5 ? new(values, [], screening, FormattableString.Invariant($"{values.Length} values; at least 5 are needed")) : new(values, [.. SampleLaws.Compare(values)], screening, null);
    }
}
