namespace CureSim.Scenarios;

/// <summary>Qualification plans.</summary>
internal static class QualificationKeys
{
    public const string Attribute = "attribute";
    public const string ToleranceInterval = "tolerance interval";
    public const string Ppk = "ppk";
    public const string Radiometer = "radiometer";
    public const string TrueValue = "true value";

    private static readonly Bounds OpenFraction = new(0, false, Math.BitDecrement(1.0), "more than 0 %, below 100 %");

    public static readonly BlockTable Plan = new("qualification", "A qualification plan whose assurance \"plan\" finds; it changes nothing of the cell.",
    [
        Key.Text("name", "Your name for it.").LeftOut("its kind"),
        Key.Choice("accept", [Attribute, ToleranceInterval, Ppk], "By the number of nonconforming parts, by mean ± k*s inside the limits, or by the lower confidence limit of Ppk.").Else(Attribute),
        Key.Count("nonconforming_allowed", 0, 100, "Nonconforming parts that an attribute plan allows; 0 is the success run.").Else("0"),
        Key.Value("confidence", Dimension.Ratio, OpenFraction, "Confidence that the textbook states.").Else("95 %"),
        Key.Value("reliability", Dimension.Ratio, OpenFraction, "Proportion of parts that must conform; not for ppk, which has the proportion of its index.").Else("95 %"),
        Key.Value("ppk", Dimension.Number, Bounds.Positive, "Ppk to be shown, for \"accept: ppk\" only.").Else("1.33"),
        Key.Count("parts", 1, 10_000, "Parts taken.").LeftOut("attribute: the fewest for confidence and reliability; else 30").Such("59"),
        Key.Count("setups", 1, 1000, "Set-ups over which the parts are spread, as the cell comes to have them.").Else("1"),
        Key.Count("lots", 1, 1000, "Lots of substrate and of adhesive over which they are spread.").Else("1"),
        Key.Count("emitter_ages", 1, 10, "Equal parts of an emitter's life over which they are spread.").Else("1"),
        Key.Choice("gate", ["none", "after check", "as left within adjust"], "Parts are taken at any time, in the step after commissioning or a check, or then and with the last setting within adjust; without checks at any time.")
            .Else("after check"),
        Key.Choice("measured_by", [TrueValue, Radiometer], "How a part is looked at; the radiometer is that of the checks, with its errors.") with
        {
            Defaults = [new KeyDefault(Attribute, TrueValue, Origin.Default), new KeyDefault(null, Radiometer, Origin.Default)],
        },
        Key.Choice("good_over", ["horizon", "qualification"], "Over what a cell's own fraction must conform for the cell to be good: its whole horizon, or the states in which parts are taken.").Else("horizon"),
    ]);
}
