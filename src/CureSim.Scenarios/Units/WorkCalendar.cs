namespace CureSim.Scenarios;

/// <summary>
/// The production clock: it counts scheduled hours only, so a day is the hours a day, a week is the days a week of those,
/// a year the weeks a year of those, and a month a twelfth of the year.
/// </summary>
/// <param name="StepSeconds">Step.</param>
/// <param name="ShiftSeconds">Shift.</param>
/// <param name="DaySeconds">Scheduled seconds in a working day.</param>
/// <param name="WeekSeconds">Scheduled seconds in a working week.</param>
/// <param name="YearSeconds">Scheduled seconds in a year.</param>
/// <param name="Trusted">False when the production block has problems, so that nothing should be concluded from the step.</param>
internal sealed record WorkCalendar(
    double StepSeconds, double ShiftSeconds, double DaySeconds, double WeekSeconds, double YearSeconds, bool Trusted)
{
    /// <summary>Stands in until the production block has been read.</summary>
    public static readonly WorkCalendar Unknown = new(28800, 28800, 57600, 288000, 14400000, false);

    public double Seconds(CalendarWord word) => word switch
    {
        CalendarWord.Shift => ShiftSeconds,
        CalendarWord.Day => DaySeconds,
        CalendarWord.Week => WeekSeconds,
        CalendarWord.Month => YearSeconds / 12,
        CalendarWord.Quarter => YearSeconds / 4,
        CalendarWord.HalfYear => YearSeconds / 2,
        CalendarWord.Year => YearSeconds,
        _ => throw new ArgumentOutOfRangeException(nameof(word)),
    };
}
