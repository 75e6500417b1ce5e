using CureSim.Core.Cell;

namespace CureSim.Scenarios;

/// <summary>Costs, and what the ownership study needs beside them.</summary>
internal static class OwnershipKeys
{
    public static readonly BlockTable Costs = new("costs",
        "What things cost, in one currency; what is left out is not counted. A distribution says what is not known of a price: one draw for each lifetime, for all its years; interval takes means.",
    [
        Key.Text("currency", "Name or sign of the currency; all amounts below are in it.").Such("EUR"),
        Amount("check", "Labour and material of one check."),
        Amount("lost_hour", "Contribution lost in an hour of downtime."),
        Amount("suspect_part", "A part that a check finds suspect: sorting, rework, scrap."),
        Amount("nonconforming_part", "A nonconforming part made: its escape."),
        Amount("emitter", "An emitter with its fitting."),
        Amount("guide", "A guide with its fitting."),
        Amount("requalification", "A requalification: parts, tests, paper."),
        Amount("calibration", "A calibration of the radiometer."),
        Amount("purchase", "The equipment as a whole, at the start."),
        Amount("purchase_per_emitter", "Equipment for each emitter (head, driver), at the start."),
        Amount("change_control", "Change control at the start: paper, approvals, notices."),
        Amount("first_qualification", "The qualification that the change needs; paid again each time it fails."),
        Amount("radiometer", "A radiometer: at the start, and at every radiometer.new_meter_every."),
        Amount("kwh", "A kilowatt hour."),
        Amount("disposal", "Disposal of a used emitter."),
        Amount("exposure_second", "A second of exposure of one part: what cycle time is worth."),
        Amount("bridging_stock", "Stock built before the change to bridge it."),
        Amount("delay_week", "Each calendar week that the change takes."),
        Amount("forced_change", "The change that is forced when the emitter's supply ends within the horizon."),
        Amount("residual_value", "What the equipment still fetches at the horizon."),
    ]);

    private static readonly BlockTable Project = new("project", "What the change to this option takes; until it is done the plant runs on with the installed option.",
    [
        Key.Quantity("duration", Dimension.ProductionTime, Level.Cell, Bounds.NotNegative, "From the decision to the first part sold.").Such("{ triangular: { from: 3 months, peak: 6 months, to: 12 months } }"),
        Key.Value("validation_fails", Dimension.Ratio, new Bounds(0, true, 0.9, "from 0 % to 90 %"), "Chance that a validation fails and is repeated.").Else("0 %"),
        Key.Quantity("repeat", Dimension.ProductionTime, Level.Cell, Bounds.NotNegative, "What each repetition adds.").Else("0 h"),
    ]);

    private static readonly Bounds Rate = new(-0.5, true, 10.0, "from -50 % to 1000 %");

    public static readonly BlockTable Ownership = new("ownership", "What \"ownership\" needs beside the costs; it changes nothing of a run.",
    [
        Key.Text("label", "Short name of the option.").LeftOut("the scenario's name").Such("lamp"),
        Key.YesNo("installed", "True when the plant has this option already: nothing is paid at the start.").Else("false"),
        Key.Quantity("discount_rate", Dimension.Ratio, Level.Cell, Rate, "What money costs a year.").Typically("8 %"),
        Key.Choice("discounting", ["end of year", "middle of year", "beginning of year", "evenly over the year"], "When in a year its flows are taken to fall.").Else("end of year"),
        Key.Choice("money", ["nominal", "real"], "Nominal: amounts of the day. Real: purchasing power of the start; then growth and discount rate are above inflation.").Else("nominal"),
        Key.Quantity("price_growth", Dimension.Ratio, Level.Cell, Rate, "Growth of all prices but electricity, a year.").Else("0 %"),
        Key.Quantity("energy_price_growth", Dimension.Ratio, Level.Cell, Rate, "Growth of the price of electricity, a year.").Else("0 %"),
        Key.Value("lit_power", Dimension.Power, Bounds.NotNegative, "Electric power of one emitter while lit.").Else("0 W"),
        Key.Value("standby_power", Dimension.Power, Bounds.NotNegative, "Electric power of one emitter in scheduled time in which it is not lit.").Else("0 W"),
        Key.Value("warm_up", Dimension.Time, Bounds.NotNegative, "Lit time before the first part, at each ignition.").Else("0 min"),
        Key.Value("cooled_share", Dimension.Ratio, Bounds.Fraction, "Share of the electricity whose heat the room's cooling carries away; 0 % in a room that is not cooled.").Else("0 %"),
        Key.Value("cooling_cop", Dimension.Number, Bounds.Positive, "Heat carried away for each kilowatt hour of the cooling.").Typically("3"),
        Key.Value("emission_factor", Dimension.Number, Bounds.NotNegative, "kg CO2e for each kilowatt hour, from your supplier or a national list.", "none").Else("none"),
        Key.Value("emission_year", Dimension.Number, new Bounds(1990, true, 2100, "a year from 1990 to 2100"), "Year of that factor.", "not stated").Else("not stated"),
        Key.YesNo("holds_mercury", "True when its emitters hold mercury.").Typically(SourceKeys.ArcLamp, "true").Else("false"),
        Key.Value("nonconforming_limit", Dimension.Proportion, Bounds.PositiveFraction,
            "Fraction of nonconforming parts up to which an option holds the window; \"as required\": interval_study.nonconforming_limit, else that of requalification.capability.", "as required").Else("as required"),
        Key.Block(Project).LeftOut("the change is made at once"),
        Key.Quantity("supply_ends", Dimension.ProductionTime, Level.Cell, Bounds.Positive, "Production time after which its emitters can no longer be bought.", "none").Else("none"),
    ]);

    private static Key Amount(string name, string meaning) => Key.Quantity(name, Dimension.Number, Level.Cell, Bounds.NotNegative, meaning).Else("0");
}
