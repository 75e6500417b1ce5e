namespace CureSim.Scenarios;

/// <summary>Production clock and sites.</summary>
internal static class ProductionKeys
{
    public static readonly BlockTable Table = new("production", "Production: rate, sites, and the clock, which counts scheduled production hours.",
    [
        Key.Value("rate", Dimension.PartRate, Bounds.Positive, "Parts an hour of the whole cell, while it runs.").Such("240 /h"),
        Key.Count("sites", 1, 1000, "Bond positions of the cell.").Else("1"),
        Key.Count("sites_per_part", 1, 1000, "Bonds of one part, lit by one exposure; divides sites.").LeftOut("all sites"),
        Key.Value("shift", Dimension.Hours, Bounds.Positive, "Length of a shift; a whole number of steps.").Else("8 h"),
        Key.Value("step", Dimension.Interval, Bounds.Positive, "Length of a simulation step, at most a shift.").Else("1 shift"),
        Key.Value("hours_a_day", Dimension.Number, Bounds.Positive, "Scheduled hours in a working day.").Else("16"),
        Key.Value("days_a_week", Dimension.Number, Bounds.Positive, "Working days in a week.").Else("5"),
        Key.Value("weeks_a_year", Dimension.Number, Bounds.Positive, "Working weeks in a year; a month is a twelfth of the year.").Else("50"),
        Key.Value("horizon", Dimension.Interval, Bounds.Positive, "Simulated production time; a whole number of steps.").Else("5 yr"),
    ]);
}
