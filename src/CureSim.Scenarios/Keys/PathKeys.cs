using CureSim.Core.Cell;

namespace CureSim.Scenarios;

/// <summary>From the source to the bond: guide, tip, substrate.</summary>
internal static class PathKeys
{
    public static readonly BlockTable Guide = new("guide", "The light guide: with a shared emitter one leg a site, else a guide of its own at every site.",
    [
        Key.RelativeError("transmission", Level.Guide, "Transmission of a new guide, relative to the nominal one.").Typically("3 %"),
        Key.RelativeError("imbalance", Level.Guide, "Share of a leg among the legs of a shared emitter; one leg has none.").Typically("4 %"),
        Key.RelativeError("reseat", Level.Setup, "Factor of taking the guide out and seating it again.").Typically("2 %"),
        Key.Quantity("loss", Dimension.LitLoss, Level.Guide, Bounds.NotNegative, "Loss of transmission for lit hours.")
            .Typically("{ lognormal: { median: 3 %/1000 h, gsd: 1.5 } }"),
        Key.Choice("lit", ["exposures only", "as the emitter"], "When light is in it: during exposures (a shutter stands before it), or whenever the emitter burns.")
            .Else("exposures only"),
        Key.Value("replace_at", Dimension.LitTime, Bounds.Positive, "Lit hours at which it is replaced as planned.", "none").Else("none"),
    ]);

    public static readonly BlockTable Tip = new("tip", "The last surface before the bond, one a site.",
    [
        Key.Quantity("fouling", Dimension.Fouling, Level.Cleaning, Bounds.NotNegative, "Loss of transmission for each exposure since cleaning.")
            .Typically("{ lognormal: { median: 0.5 %/10000, gsd: 1.6 } }"),
        Key.Quantity("cleaning_effect", Dimension.Ratio, Level.Cleaning, Bounds.Fraction, "Share of the fouling that a cleaning takes off.").Else("100 %"),
    ]);

    public static readonly BlockTable Substrate = new("substrate", "The part that the light passes before the bond.",
    [
        Key.Quantity("thickness", Dimension.Length, Level.Part, Bounds.NotNegative, "Thickness.").Such("{ normal: { mean: 1.2 mm, sd: 0.05 mm } }"),
        Key.Quantity("absorption", Dimension.Attenuation, Level.SubstrateLot, Bounds.NotNegative, "Absorption coefficient (natural logarithm).")
            .Such("{ normal: { mean: 0.25 /mm, sd: 5 % } }"),
        Key.Value("index", Dimension.Number, Bounds.OverOne, "Refractive index at the wavelength used; gives the reflectance; or give reflectance.")
            .LeftOut("1.5 (typical), unless reflectance is given").Such("1.58"),
        Key.Value("reflectance", Dimension.Ratio, Bounds.BelowOne, "Reflectance of one face, in place of index.").LeftOut("from index").Such("4 %"),
        Key.Value("lot_every", Dimension.Interval, Bounds.Positive, "Production time that one lot lasts.", "one lot").Else("one lot"),
    ]);
}
