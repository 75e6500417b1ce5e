using CureSim.Core.Cell;

namespace CureSim.Scenarios;

/// <summary>The light source and the loop that holds it.</summary>
internal static class SourceKeys
{
    public const string ArcLamp = "arc lamp";
    public const string Led = "LED";
    public const string Own = "own";

    private static readonly BlockTable Wander = new("wander", "Slow wander of the output between settings.",
    [
        Key.Quantity("sd", Dimension.Ratio, Level.Emitter, Bounds.NotNegative, "Standard deviation of the logarithm of the output.").Such("1.5 %"),
        Key.Quantity("correlation_time", Dimension.ProductionTime, Level.Emitter, Bounds.Positive, "Production time over which it is remembered.").Such("40 h"),
        Key.YesNo("seen_by_sensor", "True when it happens before the loop's sensor.").Else("true"),
    ]);

    // Typical ageing, failure and life. Common practice, no source: a mercury short-arc lamp loses about 20 % in its first 500 h and half by
    // 3000 h, when it is replaced; a UV LED loses about 10 % in its first 500 h and reaches 70 % at about 20 000 h.
    // late_time of the LED = 20000 h / ln(0.9/0.7).
    private const string LampAgeing =
        "{ two_stage: { early_part: 12.7127 %, early_time: { lognormal: { median: 150 h, gsd: 1.3 } }, late_time: { lognormal: { median: 5384.23 h, gsd: 1.2 } } } }";

    private const string LedAgeing =
        "{ two_stage: { early_part: 10 %, early_time: { lognormal: { median: 150 h, gsd: 1.3 } }, late_time: { lognormal: { median: 79581.59 h, gsd: 1.2 } } } }";

    public static readonly BlockTable Table = new("source", "The light source.",
    [
        Key.Choice("kind", [ArcLamp, Led, Own], "Sets the typical values below; \"own\" sets none.").Such(ArcLamp),
        Key.Choice("emitters", ["shared", "one a site"], "One emitter for all sites, or a head of its own at every site.")
            .Typically(ArcLamp, "shared").Typically(Led, "one a site").Else("shared"),
        Key.Choice("lit", ["whole shift", "exposures only"], "When the emitter burns: through the shift behind a shutter, or during exposures.")
            .Typically(ArcLamp, "whole shift").Typically(Led, "exposures only").Such("whole shift"),
        Key.Value("ignition_adds", Dimension.LitTime, Bounds.NotNegative, "Burn hours that each ignition adds.").Else("0 h"),
        Key.Value("ignitions_a_shift", Dimension.Number, Bounds.NotNegative, "Ignitions in a shift.").Else("1"),
        Key.Quantity("irradiance", Dimension.Irradiance, Level.Emitter, Bounds.Positive,
            "At the reference distance with full drive, a new emitter and new, clean optics; at each leg.").Such("{ normal: { mean: 6.4 W/cm2, sd: 5 % } }"),
        Key.Count("stated_legs", 1, 1000, "Number of guide legs for which irradiance is stated (shared emitter); with another number it is rescaled.").LeftOut("all sites"),
        Key.LawOrCandidates("ageing", "Relative output at burn hours.", AgeingKeys.Laws)
            .Typically(ArcLamp, LampAgeing).Typically(Led, LedAgeing).Such(LampAgeing),
        Key.Block(Wander).LeftOut("no wander"),
        Key.Quantity("failure", Dimension.LitTime, Level.Emitter, Bounds.Positive, "Burn hours at sudden failure.", "none")
            .Typically(ArcLamp, "{ weibull: { shape: 4, scale: 4000 h } }").Else("none"),
        Key.Value("replace_at", Dimension.LitTime, Bounds.Positive, "Burn hours at which the emitter is replaced as planned.", "none")
            .Typically(ArcLamp, "3000 h").Typically(Led, "20000 h").Else("none"),
        Key.Value("drive_step", Dimension.Ratio, Bounds.Fraction, "Grid of the drive, of full drive; 0 % is continuous.").Typically("1 %"),
        Key.Value("drive_minimum", Dimension.Ratio, Bounds.PositiveFraction, "Lowest drive.").Typically("10 %"),
        Key.Value("drive", Dimension.Ratio, Bounds.PositiveFraction, "Drive of a cell without checks; checks set their own.").Else("100 %"),
        Key.Quantity("band_ageing", Dimension.LitLoss, Level.Emitter, Bounds.NotNegative,
            "Loss of the useful band that neither sensor nor radiometer reads, for burn hours.").Else("0 %/1000 h"),
    ]);

    public static readonly BlockTable Loop = new("loop", "The loop that holds the output between settings.",
    [
        Key.Choice("kind", ["output sensor", "none"], "A sensor inside the source, before the guide, holds its own reading; or nothing does.").Such("output sensor"),
        Key.Quantity("sensor_drift", Dimension.Drift, Level.Cell, Bounds.Any, "Drift of the sensor since the set-point was last set, production time.")
            .Typically("output sensor", "{ normal: { sd: 2 %/yr } }").Else("0 %/1000 h"),
        Key.RelativeError("ripple", Level.Part, "Factor of the output within one exposure.").Typically("output sensor", "0.5 %").Else("0 %"),
        Key.YesNo("alarm", "True when a loop that has run out of headroom says so at once.").Else("true"),
    ]);
}
