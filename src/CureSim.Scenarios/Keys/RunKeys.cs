namespace CureSim.Scenarios;

/// <summary>Present state, run settings and origins.</summary>
internal static class RunKeys
{
    public const string Auto = "auto";
    public const string Independent = "independent";
    public const string Stratified = "stratified";

    public static readonly BlockTable Now = new("now", "Present state of the plant, from which the first emitters and guides start.",
    [
        Key.Values("emitter_hours", Dimension.LitTime, Bounds.NotNegative, "Burn hours of the emitter, or of each.").LeftOut("as new").Such("900 h"),
        Key.Values("guide_hours", Dimension.LitTime, Bounds.NotNegative, "Lit hours of the guide, or of each.").LeftOut("as new").Such("300 h"),
        Key.Values("drive", Dimension.Ratio, Bounds.PositiveFraction, "Present drive; with it nothing is set at the start.").LeftOut("set at the start").Such("62 %"),
        Key.Values("leg_shares", Dimension.Ratio, Bounds.Positive, "Measured share of each leg, relative to their mean.").LeftOut("drawn").Such("[ 103 %, 97 % ]"),
        Key.Values("exposures_since_cleaning", Dimension.Number, Bounds.NotNegative, "Exposures of the tip since it was cleaned, or of each.")
            .LeftOut("cleaned at the start").Such("12000"),
        Key.Values("last_as_left", Dimension.Irradiance, Bounds.Positive, "Last as-left indication of the site, or of each.").LeftOut("read at the start").Such("3.2 W/cm2"),
    ]);

    public static readonly BlockTable Precision = new("precision", "How precise figures must be: largest half-width of their 95 % interval. Rounds of 4096 lifetimes are added until all are met.",
    [
        Key.Value("mean_dose", Dimension.Ratio, Bounds.Positive, "For the mean dose, in % of it.").LeftOut("not asked").Such("0.2 %"),
        Key.Value("ppk", Dimension.Number, Bounds.Positive, "For Ppk by moments, of every limited response.").LeftOut("not asked").Such("0.02"),
        Key.Value("cpk", Dimension.Number, Bounds.Positive, "For Cpk, of every limited response.").LeftOut("not asked").Such("0.02"),
        Key.Value("state_index", Dimension.Number, Bounds.Positive, "For the state index that 5 % of cells are below, just before a check (at the end without checks).")
            .LeftOut("not asked").Such("0.05"),
        Key.Value("fraction_nonconforming", Dimension.Ratio, Bounds.Positive, "For the nonconforming bonds and parts by state, in % of them.").LeftOut("not asked").Such("10 %"),
        Key.Value("median_time_to_requalify", Dimension.ProductionTime, Bounds.Positive, "For the median time to requalify.").LeftOut("not asked").Such("50 h"),
        Key.Count("at_most", 4096, 10_000_000, "Lifetimes, in all worlds together, at which it ends in any case.").Else("65536"),
    ]);

    public static readonly BlockTable Run = new("run", "How much is simulated.",
    [
        Key.Count("worlds", 1, 65_536, "Draws of what is unknown.").LeftOut("20 when something is unknown, else 1; with precision as many as it takes").Such("20"),
        Key.Count("lifetimes", 1, 10_000_000, "Simulated lifetimes in each world.").LeftOut("250 with several worlds, else 2000; with precision and one world as many as it takes").Such("250"),
        Key.Block(Precision).LeftOut("the number of lifetimes is given"),
        Key.Count("parts_a_step", 1, 65535, "Parts sampled in each step.").Else("4"),
        Key.Choice("sampling", [Auto, Independent, Stratified],
            "How lifetimes are spread over what varies from cell to cell: each drawn for itself, or sharing out strata; \"auto\" stratifies worlds of 512 lifetimes or more.").Else(Auto),
        Key.Count("seed", 0, ulong.MaxValue, "Key of every draw.").Else("1"),
    ]);

    public static readonly BlockTable Origin = new("origin", "Values that are written but are not your own findings; a resolved scenario lists what was left out.",
    [
        Key.List("typical", new TextShape(), "Paths of values that are typical of the trade.").LeftOut("none").Such("[ source.failure ]"),
        Key.List("default", new TextShape(), "Paths of values that are the format's defaults.").LeftOut("none").Such("[ checks.tries ]"),
    ]);
}
