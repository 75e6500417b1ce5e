namespace CureSim.Scenarios;

/// <summary>Candidates and requirements of the interval study.</summary>
internal static class IntervalKeys
{
    public static readonly BlockTable AfterReplacement = new("after_replacement", "Closer checks while an emitter is new, beside the calendar.",
    [
        Key.Value("interval", Dimension.Interval, Bounds.Positive, "Production time between them; shorter than the interval of the calendar.").Such("1 day"),
        Key.Value("for", Dimension.ProductionTime, Bounds.Positive, "How long they go on after every installation, in whole steps that fit.").Such("500 h"),
    ]);

    public static readonly Key[] Uneven =
    [
        Key.Block(AfterReplacement).LeftOut("none"),
        Key.Value("when_drive_above", Dimension.Ratio, Bounds.PositiveFraction, "A check is made at the end of the step in which the loop's drive passes this; read from the controller, it costs nothing.", "none")
            .Else("none").Such("90 %"),
        Key.YesNo("when_alarm", "True when the alarm of a saturated loop is followed by a check at the end of its step.").Else("false"),
    ];

    private static readonly BlockTable Routine = new("routines", "A way of timing the checks.",
    [
        Key.Text("name", "Your name for it.").LeftOut("what it does"),
        Key.Value("interval", Dimension.Interval, Bounds.Positive, "Production time between the checks of the calendar.").Such("1 month"),
        .. Uneven,
    ]);

    private static readonly Bounds OpenFraction = new(0, false, Math.BitDecrement(1.0), "more than 0 %, below 100 %");

    public static readonly BlockTable Study = new("interval_study", "What \"interval\" compares and requires; it changes nothing of a run.",
    [
        Key.List("intervals", new ValueShape(Dimension.Interval, Bounds.Positive, []), "Candidate intervals.")
            .LeftOut("shift, day, week, 2 weeks, month, quarter, half year, year, as far as they fit the steps and the horizon").Such("[ 1 shift, 1 day, 1 week ]"),
        Key.List("routines", new BlockShape(Routine), "Further candidates: uneven and triggered checks.").LeftOut("none").Such("[ { interval: 1 month, when_drive_above: 90 % } ]"),
        Key.Value("reliability_target", Dimension.Ratio, OpenFraction, "Proportion of checks that must find the cell in tolerance (end-of-period reliability).").Typically("95 %"),
        Key.Value("nonconforming_limit", Dimension.Proportion, Bounds.PositiveFraction, "Fraction of nonconforming parts that is allowed.", "none").Else("none").Such("100 ppm"),
        Key.List("adjust_limits", new ValueShape(Dimension.Ratio, Bounds.NotNegative, []), "Adjust limits that are crossed with the interval.")
            .LeftOut("0, 1/2, 1, 2 and 4 times checks.adjust").Such("[ 0 %, 2 %, 5 % ]"),
        Key.List("action_limits", new ValueShape(Dimension.Ratio, Bounds.Positive, []), "Action limits that are crossed with the interval.")
            .LeftOut("1/2, 1, 2 and 4 times checks.action").Such("[ 3 %, 5 %, 10 % ]"),
    ]);
}
