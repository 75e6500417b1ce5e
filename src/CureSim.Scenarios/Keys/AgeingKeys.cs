using CureSim.Core.Cell;

namespace CureSim.Scenarios;

/// <summary>Ageing laws: relative output at burn hours, 1 when new.</summary>
internal static class AgeingKeys
{
    private static readonly BlockTable Point = new("points", "One point of the curve.",
    [
        Key.Value("at", Dimension.LitTime, Bounds.NotNegative, "Burn hours.").Such("500 h"),
        Key.Value("output", Dimension.Ratio, Bounds.PositiveFraction, "Output there, relative to new.").Such("80 %"),
    ]);

    private static readonly Key Scale = Key.Quantity("hours_scale", Dimension.Number, Level.Emitter, Bounds.Positive,
        "Factor on the hours of the curve: 1.2 ages more slowly, reaching each output at 1.2 times the hours.").Else("1");

    public static readonly BlockTable Exponential = new("exponential", "exp(-h/time).",
    [
        Key.Quantity("time", Dimension.LitTime, Level.Emitter, Bounds.Positive, "Time constant; or give output and at.").LeftOut("from output and at").Such("8000 h"),
        Key.Value("output", Dimension.Ratio, Bounds.PositiveFraction, "Output that is reached at the hours given.").LeftOut("from time").Such("70 %"),
        Key.Quantity("at", Dimension.LitTime, Level.Emitter, Bounds.Positive, "Burn hours at which it is reached.").LeftOut("from time").Such("20000 h"),
    ]);

    public static readonly BlockTable TwoStage = new("two_stage",
        "early_part*exp(-h/early_time) + (1 - early_part)*exp(-h/late_time): fast, then slow.",
    [
        Key.Quantity("early_part", Dimension.Ratio, Level.Emitter, Bounds.Fraction, "Share of the output that is lost early.").Such("15 %"),
        Key.Quantity("early_time", Dimension.LitTime, Level.Emitter, Bounds.Positive, "Time constant of the early loss.")
            .Such("{ lognormal: { median: 260 h, gsd: 1.3 } }"),
        Key.Quantity("late_time", Dimension.LitTime, Level.Emitter, Bounds.Positive, "Time constant of the rest.")
            .Such("{ lognormal: { median: 6500 h, gsd: 1.2 } }"),
    ]);

    public static readonly BlockTable Stretched = new("stretched", "exp(-(h/time)^shape).",
    [
        Key.Quantity("time", Dimension.LitTime, Level.Emitter, Bounds.Positive, "Time constant; or give two points.").LeftOut("from points").Such("5400 h"),
        Key.Quantity("shape", Dimension.Number, Level.Emitter, Bounds.Positive, "Shape.").LeftOut("from points").Such("0.63"),
        Key.List("points", new BlockShape(Point), "Two points of the curve, in place of time and shape.").LeftOut("from time and shape")
            .Such("[ { at: 500 h, output: 80 % }, { at: 3000 h, output: 50 % } ]"),
        Scale,
    ]);

    public static readonly BlockTable Table = new("table", "A monotone curve through points; flat after the last.",
    [
        Key.Text("csv", "Data file in the scenario's folder.").LeftOut("from points").Such("lamp-output.csv"),
        Key.Text("hours_column", "Its column of burn hours; the unit is in the header, e.g. burn_h.").LeftOut("from points").Such("burn_h"),
        Key.Text("output_column", "Its column of relative output, e.g. output_percent.").LeftOut("from points").Such("output_percent"),
        Key.List("points", new BlockShape(Point), "The points themselves, in place of a file; the first at 0 h is 100 %.").LeftOut("from csv")
            .Such("[ { at: 0 h, output: 100 % }, { at: 500 h, output: 80 % }, { at: 3000 h, output: 50 % } ]"),
        Scale,
    ]);

    public static readonly BlockTable[] Laws = [Exponential, TwoStage, Stretched, Table];
}
