namespace CureSim.Scenarios;

/// <summary>Ranges and requirements of the process-window study.</summary>
internal static class WindowStudyKeys
{
    public static readonly string[] Risks = ["high", "medium", "low"];

    private static readonly Bounds OpenFraction = new(0, false, Math.BitDecrement(1.0), "more than 0 %, below 100 %");
    private static readonly Bounds UpperHalf = new(0.5, false, Math.BitDecrement(1.0), "more than 50 %, below 100 %");

    public static readonly BlockTable Study = new("window_study", "What \"window\" maps and requires; it changes nothing of a run.",
    [
        Key.Value("irradiance_from", Dimension.Irradiance, Bounds.Positive, "Lowest irradiance setting (checks.target) of the map.", "found").Else("found").Such("2.5 W/cm2"),
        Key.Value("irradiance_to", Dimension.Irradiance, Bounds.Positive, "Highest irradiance setting.", "found").Else("found").Such("4.5 W/cm2"),
        Key.Value("time_from", Dimension.Time, Bounds.Positive, "Shortest exposure time of the map.", "found").Else("found").Such("1.5 s"),
        Key.Value("time_to", Dimension.Time, Bounds.Positive, "Longest exposure time.", "found").Else("found").Such("4 s"),
        Key.Count("nodes", 5, 101, "Settings along each axis.").Else("21"),
        Key.Value("nonconforming_limit", Dimension.Proportion, Bounds.PositiveFraction, "Fraction of nonconforming parts over the horizon that is allowed.").Typically("1000 ppm"),
        Key.Value("confidence", Dimension.Ratio, OpenFraction, "Confidence with which the operating rectangle holds the requirement at all its settings together.").Typically("95 %"),
        Key.Choice("risk", Risks, "Risk of a nonconforming bond; sets confidence and reliability of sample sizes: 95/99, 95/95, 95/90.").Typically("medium"),
        Key.Value("challenge", Dimension.Ratio, UpperHalf, "Probability level of each unfavourable condition of a challenge point.").Typically("95 %"),
    ]);
}
