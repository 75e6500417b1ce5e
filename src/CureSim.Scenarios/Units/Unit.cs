namespace CureSim.Scenarios;

/// <summary>One unit word and what a number with it is in SI.</summary>
/// <param name="Symbol">As it is written and printed.</param>
/// <param name="Spellings">Other accepted spellings.</param>
/// <param name="ToSi">Number in this unit → SI; of a calendar word, → SI on the given production clock.</param>
/// <param name="Word">The calendar word, if it is one.</param>
internal sealed record Unit(string Symbol, string[] Spellings, Func<double, WorkCalendar, double> ToSi, CalendarWord? Word = null)
{
    public bool Answers(string text) => text == Symbol || Spellings.Contains(text);
}
