namespace CureSim.Scenarios;

/// <summary>Spans that are counted on the plant's calendar rather than by the clock.</summary>
internal enum CalendarWord
{
    Shift,
    Day,
    Week,
    Month,
    Quarter,
    HalfYear,
    Year,
}
