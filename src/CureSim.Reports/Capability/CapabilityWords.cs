using CureSim.Core.Statistics;
using CureSim.Reports.Text;
using CureSim.Studies.Capability;

namespace CureSim.Reports.Capability;

/// <summary>Sentences that answer, document and plots share.</summary>
internal static class CapabilityWords
{
    /// <summary>Which figure to use, and why.</summary>
    public static string WhichToUse(CapabilityAnalysis analysis) => analysis.Use switch
    {
        JudgingIndex.Percentiles => "not normal: use the percentile index, not Ppk by mean and standard deviation",
        JudgingIndex.PowerTransform =>
            $"not normal: use Ppk after the power {Format.Value(analysis.Power.Lambda.Value!.Value, null, 2)} (Box–Cox), after which normality is not refused, not Ppk by mean and standard deviation",
        JudgingIndex.None =>
            $"not normal, and no power makes it so: use the counted fraction and the tolerance interval without a shape; a percentile index needs {PercentileFinding.LeastValues(analysis.Settings.Confidence)} values{Rounding(analysis)}",
        _ when analysis.Normality.Refused is null =>
            $"normality cannot be tested ({analysis.Normality.AndersonDarling.Withheld}): Ppk by mean and standard deviation rests on an assumption",
        _ => "normality is not refused: Ppk by mean and standard deviation may be used",
    };

    private static string Rounding(CapabilityAnalysis analysis) =>
        analysis.Screening.RoundingShare > SampleScreening.LargestRoundingShare ? ". The readings are rounded, which alone may be why: read more digits" : "";

    /// <summary>The tests in numbers.</summary>
    public static string Tests(NormalityFinding normality)
    {
        string Test(string name, NormalityTest test, double? statistic, string symbol) => test.PValue is { } p && statistic is { } s
            ? $"{name} {symbol} = {Format.Value(s, null, 3)}, {IntervalText.Probability(p)}" : $"{name} withheld ({test.Withheld})";
        return Test("Anderson–Darling", normality.AndersonDarling, normality.AndersonDarling.Modified, "A*²") + "; "
            + Test("Shapiro–Wilk", normality.ShapiroWilk, normality.ShapiroWilk.Statistic, "W");
    }

    /// <summary>Confidence as text, "95 %".</summary>
    public static string Confidence(CapabilityAnalysis analysis) => IntervalText.Stated(analysis.Settings.Confidence);

    /// <summary>What the short-term figures may be called.</summary>
    public static string ShortTerm(CapabilityAnalysis analysis) => analysis.Groups switch
    {
        null => "no groups were given: Pp and Ppk only. ISO 22514 keeps Cp and Cpk for a process in statistical control, which one sample without groups cannot show",
        { Withheld: { } why } => $"Cp and Cpk are withheld: {why}",
        { Differ: true } => "the groups differ by more than chance: the process is not in statistical control (ISO 22514), Cp and Cpk say what it could do, Pp and Ppk what it did. "
            + "Values of one group are alike, so the sample shows less than its number of values says and the intervals of the whole sample are too narrow",
        { Differ: false } => "the groups do not differ by more than chance",
        _ => "whether the groups differ by more than chance cannot be tested",
    };

    /// <summary>How a tolerance interval was made.</summary>
    public static string Method(ToleranceInterval interval) => interval.Method == ToleranceMethod.Normal ? "normal, exact factor" : "order statistics (Wilks)";
}
