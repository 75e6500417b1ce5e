using CureSim.Core.Cell;

namespace CureSim.Scenarios;

/// <summary>The check routine, the radiometer, disturbances, downtime and requalification.</summary>
internal static class CheckKeys
{
    private static readonly BlockTable Late = new("late", "Checks that are made late.",
    [
        Key.Value("probability", Dimension.Ratio, Bounds.Fraction, "Chance that a scheduled check is late.").Such("5 %"),
        Key.Value("by", Dimension.Interval, Bounds.Positive, "How late; less than the interval.").Such("1 shift"),
    ]);

    public static readonly BlockTable Checks = new("checks", "The routine check with the radiometer, and setting.",
    [
        Key.Value("interval", Dimension.Interval, Bounds.Positive, "Production time between checks; the first is one interval after the start.").Such("1 week"),
        Key.Value("target", Dimension.Irradiance, Bounds.Positive, "Indication to set to.").Such("3.2 W/cm2"),
        Key.Value("action", Dimension.Ratio, Bounds.Positive, "Deviation of the indication beyond which the adjustment is recorded and causes are looked for; also the limit for being short.")
            .Typically("5 %"),
        Key.Value("adjust", Dimension.Ratio, Bounds.NotNegative, "Deviation of the indication beyond which the output is adjusted.").LeftOut("half of action"),
        Key.Value("tolerance", Dimension.Ratio, Bounds.Positive, "Deviation beyond which product since the last good check is suspect.", "from window").LeftOut("same as action"),
        Key.Value("tolerance_guard", Dimension.Number, Bounds.NotNegative, "With \"from window\": how many standard uncertainties of the radiometer are taken off.").Else("2"),
        Key.Choice("measured_at", ["tip adapter", "bond fixture"], "Where the radiometer is held; the tip adapter reads neither distance nor aim.").Else("tip adapter"),
        Key.Choice("set_by", ["mean", "weakest"], "What the legs of a shared emitter are set by.").Else("mean"),
        Key.YesNo("clean", "True when tips are cleaned at every check.").Else("true"),
        Key.YesNo("fixture_check", "True when the fixture is looked at, at every check.").Else("true"),
        Key.Choice("when_short", ["emitter", "guide", "larger loss", "nothing"], "What is replaced when full drive does not reach the target.").Else("emitter"),
        Key.Count("tries", 1, 100, "Settings made at most, each after an as-left indication beyond the adjust limit.").Else("1"),
        Key.Value("leg_limit", Dimension.Ratio, Bounds.Positive, "A leg further than this from the target after setting is reported.", "none").Else("none"),
        Key.Value("missed", Dimension.Ratio, Bounds.Fraction, "Chance that a scheduled check is not made.").Else("0 %"),
        Key.Block(Late).LeftOut("never late"),
        .. IntervalKeys.Uneven,
    ]);

    public static readonly BlockTable Radiometer = new("radiometer", "The radiometer; its errors are factors on the true value.",
    [
        Key.RelativeError("meter", Level.Meter, "What calibration does not remove: band, aperture, cosine.").Typically("{ U: 6 %, k: 2 }"),
        Key.RelativeError("calibration", Level.Calibration, "Error of a calibration.").Typically("{ U: 5 %, k: 2 }"),
        Key.Value("persistence", Dimension.Number, Bounds.BelowOne, "Correlation of successive calibrations.").Typically("0.5"),
        Key.Value("calibrated_every", Dimension.Interval, Bounds.Positive, "Production time between calibrations.", "never").Typically("1 yr"),
        Key.Quantity("drift", Dimension.Drift, Level.Calibration, Bounds.Any, "Drift since the last calibration, production time; a bare value is a fixed slope.")
            .Typically("{ normal: { sd: 1 %/yr } }"),
        Key.RelativeError("session", Level.Shift, "Error that all readings of a shift share.").Typically("0.5 %"),
        Key.RelativeError("repeatability", Level.Reading, "Error of one reading.").Typically("1 %"),
        Key.Value("resolution", Dimension.Irradiance, Bounds.Positive, "Indications are rounded to it.", "none").Else("none"),
        Key.Value("new_meter_every", Dimension.Interval, Bounds.Positive, "Production time after which another radiometer is bought.", "never").Else("never"),
    ]);

    public static readonly BlockTable Disturbance = new("disturbances", "A knock, kink or slip that arrives at random and stays until it is put right.",
    [
        Key.Text("name", "Your name for it, without dots.").Such("bracket slips"),
        Key.Choice("acts_on", ["site", "cell"], "Each site has arrivals of its own, or one arrival moves all sites.").Else("site"),
        Key.Quantity("rate", Dimension.EventRate, Level.World, Bounds.NotNegative, "Arrivals for each site, or for the cell, in production time.")
            .Such("{ events: 2, in: 6000 h }"),
        Key.Quantity("factor", Dimension.Ratio, Level.Arrival, Bounds.Positive, "Factor on transmission.", "none").Else("none").Such("85 %"),
        Key.Quantity("distance", Dimension.Length, Level.Arrival, Bounds.Any, "Shift of working distance.", "none").Else("none")
            .Such("{ lognormal: { median: 0.8 mm, gsd: 1.6 } }"),
        Key.Quantity("aim", Dimension.Length, Level.Arrival, Bounds.NotNegative, "Shift of aim, in a direction of its own.", "none").Else("none").Such("0.5 mm"),
        Key.Choice("cleared_by", ["fixture check", "bad indication", "guide replacement", "nothing"], "What puts it right.").Such("fixture check"),
        Key.Value("by_check", Dimension.Ratio, Bounds.Fraction, "Chance that a check introduces one.").Else("0 %"),
        Key.Value("by_cleaning", Dimension.Ratio, Bounds.Fraction, "Chance that a cleaning introduces one.").Else("0 %"),
        Key.Value("by_replacement", Dimension.Ratio, Bounds.Fraction, "Chance that a replacement introduces one.").Else("0 %"),
    ]);

    public static readonly BlockTable Downtime = new("downtime", "Production time lost by each kind of event.",
    [
        Key.Value("check", Dimension.Time, Bounds.NotNegative, "A check.").Typically("15 min"),
        Key.Value("emitter_replacement", Dimension.Time, Bounds.NotNegative, "A replacement of an emitter.").Typically("30 min"),
        Key.Value("guide_replacement", Dimension.Time, Bounds.NotNegative, "A replacement of a guide.").Typically("30 min"),
        Key.Value("failure", Dimension.Time, Bounds.NotNegative, "A sudden failure.").Typically("2 h"),
        Key.Value("requalification", Dimension.Time, Bounds.NotNegative, "A requalification.").Typically("8 h"),
    ]);

    public static readonly string[] Events =
        ["out of tolerance found", "state lost", "loop saturated", "emitter replaced", "guide replaced", "state left"];

    public static readonly BlockTable Requalification = new("requalification", "After what, and how, the cell is requalified.",
    [
        Key.List("after", new ChoiceShape(Events), "Events after which it is requalified.").Else("[ out of tolerance found, state lost, loop saturated ]"),
        Key.YesNo("record_only", "True: the event is written down and nothing physical follows.").Else("false"),
        Key.Value("capability", Dimension.Number, Bounds.Positive, "State index that a qualified state reaches; \"none\": every nominal bond is inside.", "none").Else("1.33"),
    ]);
}
