using CureSim.Core.Cell;

namespace CureSim.Scenarios;

/// <summary>Exposure, cure and the window.</summary>
internal static class BondKeys
{
    public static readonly BlockTable Exposure = new("exposure", "Exposure time: setting + offset + error.",
    [
        Key.Value("time", Dimension.Time, Bounds.Positive, "The time that is set.").Such("2.3 s"),
        Key.Quantity("offset", Dimension.Time, Level.World, Bounds.Any, "Constant offset: fixed, or unknown.").Else("0 ms"),
        Key.Deviation("error", Dimension.Time, Level.Part, "Error of one exposure.").Typically("{ normal: { sd: 5 ms } }"),
    ]);

    private static readonly BlockTable Rate = new("rate", "Cure rate k at 1 W/cm2.",
    [
        Key.Quantity("lot", Dimension.CureRate, Level.AdhesiveLot, Bounds.Positive, "Rate of an adhesive lot.").Such("{ lognormal: { median: 0.9 /s, gsd: 1.08 } }"),
        Key.RelativeError("part", Level.Part, "Factor of each bond within a lot.").Typically("3 %"),
    ]);

    public static readonly BlockTable Cure = new("cure", "Degree of cure: maximum*(1 - exp(-k*E^exponent*(t - induction_dose/E))), E in W/cm2.",
    [
        Key.Value("maximum", Dimension.Ratio, Bounds.PositiveFraction, "Degree of cure after a very long exposure.").Else("100 %"),
        Key.Block(Rate),
        Key.Quantity("exponent", Dimension.Number, Level.World, Bounds.Positive, "0.5: bimolecular termination; 1: reciprocity. Unknown unless fitted.")
            .Typically("{ unknown: { uniform: { from: 0.5, to: 0.8 } } }"),
        Key.Quantity("induction_dose", Dimension.Dose, Level.World, Bounds.NotNegative, "Dose that is spent on oxygen before cure starts.").Else("0 J/cm2"),
        Key.Value("lot_every", Dimension.Interval, Bounds.Positive, "Production time that one lot of adhesive lasts.", "one lot").Else("one lot"),
    ]);

    private static BlockTable Limits(string name, string meaning, Dimension dimension, Bounds bounds, string sample) => new(name, meaning,
    [
        Key.Value("lower", dimension, bounds, "Lower specification limit.", "none").Else("none").Such(sample),
        Key.Value("target", dimension, bounds, "Target, for information.", "none").Else("none").Such(sample),
        Key.Value("upper", dimension, bounds, "Upper specification limit.", "none").Else("none").Such(sample),
    ]);

    public static readonly BlockTable Window = new("window", "The process window: a bond is nonconforming when any limited response is outside.",
    [
        Key.Choice("referred_to", ["true values", "study meter"], "What the limits on irradiance and dose are stated in: true values, or indications of the radiometer in use.")
            .Else("true values"),
        Key.Block(Limits("irradiance", "Limits of irradiance at the bond.", Dimension.Irradiance, Bounds.Positive, "2 W/cm2")).LeftOut("no limits"),
        Key.Block(Limits("dose", "Limits of dose (radiant exposure) at the bond.", Dimension.Dose, Bounds.Positive, "7 J/cm2")).LeftOut("no limits"),
        Key.Block(Limits("degree_of_cure", "Limits of the degree of cure.", Dimension.Ratio, Bounds.PositiveFraction, "85 %")).LeftOut("no limits"),
    ]);
}
